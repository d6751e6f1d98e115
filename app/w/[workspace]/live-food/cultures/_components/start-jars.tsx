'use client'

import { useWatch } from 'react-hook-form'
import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormNumber, FormSelect, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { createCulturesAction } from '@/lib/features/culture/actions'
import { cultureFormSchema } from '@/lib/features/culture/schema'

type Choice = { value: string; label: string }
type Props = {
  workspace: string
  today: string
  lines: Choice[]
  zones: Choice[]
  sources: (Choice & { line: string })[]
  /** What the plan asks for, filled in. */
  asked?: { line: string; count: number }
  label?: string
  kind?: 'filled' | 'plain'
}

export function StartJars({ workspace, today, lines, zones, sources, asked, label, kind = 'filled' }: Props) {
  const done = useDone()
  return (
    <DialogButton label={label ?? 'Jars started'} kind={kind} title="Jars that were started">
      {({ close }) => (
        <RecordForm
          name={`start-jars-${asked?.line ?? 'any'}`}
          schema={cultureFormSchema}
          action={createCulturesAction}
          workspace={workspace}
          defaultValues={{
            line: asked?.line ?? lines[0]?.value,
            count: asked?.count ?? 1,
            startedOn: today,
            zone: zones[0]?.value,
            startersFrom: '',
            shelf: '',
            notes: '',
          }}
          onDone={(ids) => {
            close()
            done(ids.length === 1 ? 'One jar started.' : `${ids.length} jars started.`)
          }}
          submitLabel="Record the start"
        >
          <FormSelect name="line" label="Line" choices={lines} />
          <FormNumber name="count" label="How many" isWhole hint="Each gets a label of its own." />
          <FormDate name="startedOn" label="Started on" />
          <Starters sources={sources} />
          <FormNumber
            name="starters"
            label="Flies put into each"
            isWhole
            isOptional
            hint="Too many starve each other's larvae, too few lay few eggs: both are reckoned with."
          />
          <FormSelect name="zone" label="Zone" choices={zones} />
          <FormText
            name="shelf"
            label="Board"
            isOptional
            hint="Jars of one board infect each other with mites; no name means the whole zone."
          />
        </RecordForm>
      )}
    </DialogButton>
  )
}

function Starters({ sources }: { sources: Props['sources'] }) {
  const line = useWatch({ name: 'line' })
  const own = sources.filter((source) => source.line === line)
  return (
    <FormSelect
      name="startersFrom"
      label="Starters from"
      isOptional
      placeholder="Not written down"
      choices={[{ value: 'bought', label: 'Bought' }, ...own]}
      hint="Suspect jars are not offered. Never mix an old culture into a new one."
    />
  )
}
