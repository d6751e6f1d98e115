'use client'

import { DialogButton } from '@/components/ui/dialog'
import { ActionButton } from '@/components/ui/form/action-button'
import { FormDate, FormRadio, FormSelect } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import type { Choice } from '@/components/ui/select'
import type { HatchInput } from '@/lib/domain/hatch/forecast'
import {
  endEggCaseAction,
  moveEggCaseAction,
  reopenEggCaseAction,
  updateColdRestAction,
} from '@/lib/features/egg-case/actions'
import {
  EGG_CASE_END_WORDS,
  EGG_CASE_ENDS,
  eggCaseEndSchema,
  eggCaseMoveSchema,
  eggCaseRestSchema,
} from '@/lib/features/egg-case/schema'
import { RestPreview } from './rest-preview'

export type EggCaseHead = {
  id: string
  label: string
  version: number
  zoneId: string
  isEnded: boolean
  restStartOn: string | null
  restPlannedEndOn: string | null
  restEndedOn: string | null
}
type Props = {
  workspace: string
  today: string
  zones: Choice[]
  eggCase: EggCaseHead
  /** What its window is worked out from; null where none can be given. */
  hatchInput: HatchInput | null
}

export function EggCaseActions(props: Props) {
  const done = useDone()
  const { workspace, eggCase } = props
  if (eggCase.isEnded)
    return (
      <ActionButton
        action={reopenEggCaseAction}
        workspace={workspace}
        input={{ eggCase: eggCase.id, version: eggCase.version }}
        onDone={() => done(`${eggCase.label} is kept again.`)}
      >
        Keep it again
      </ActionButton>
    )
  return (
    <>
      <Move {...props} />
      <Rest {...props} />
      <End {...props} />
    </>
  )
}

function Move({ workspace, today, zones, eggCase }: Props) {
  const done = useDone()
  return (
    <DialogButton label="Move" title={`Move ${eggCase.label}`} place="sheet">
      {({ close }) => (
        <RecordForm
          name={`move-${eggCase.id}`}
          schema={eggCaseMoveSchema}
          action={moveEggCaseAction}
          workspace={workspace}
          defaultValues={{ eggCase: eggCase.id, on: today }}
          onDone={() => {
            close()
            done(`${eggCase.label} hangs there now.`)
          }}
          submitLabel="Move it"
        >
          <FormSelect
            name="zone"
            label="To"
            choices={zones.filter(({ value }) => value !== eggCase.zoneId)}
            placeholder="Choose the zone"
          />
          <FormDate name="on" label="Since" />
        </RecordForm>
      )}
    </DialogButton>
  )
}

function Rest({ workspace, today, eggCase, hatchInput }: Props) {
  const done = useDone()
  const { id, version, restStartOn, restPlannedEndOn, restEndedOn } = eggCase
  return (
    <DialogButton label="Cold rest" title={`Cold rest of ${eggCase.label}`} place="sheet">
      {({ close }) => (
        <RecordForm
          name={`rest-${id}`}
          schema={eggCaseRestSchema}
          action={updateColdRestAction}
          workspace={workspace}
          defaultValues={{
            eggCase: id,
            version,
            startOn: restStartOn ?? today,
            plannedEndOn: restPlannedEndOn ?? undefined,
            endedOn: restEndedOn ?? undefined,
          }}
          onDone={() => {
            close()
            done('The rest is recorded.')
          }}
          submitLabel="Record it"
        >
          <FormDate name="startOn" label="Began on" />
          <FormDate name="plannedEndOn" label="Planned to end on" isOptional />
          <FormDate name="endedOn" label="Ended on" hint="The day it came back into the warmth." isOptional />
          {hatchInput ? <RestPreview input={hatchInput} /> : null}
        </RecordForm>
      )}
    </DialogButton>
  )
}

function End({ workspace, today, eggCase }: Props) {
  const done = useDone()
  return (
    <DialogButton label="End" title={`End ${eggCase.label}`} place="sheet">
      {({ close }) => (
        <RecordForm
          name={`end-${eggCase.id}`}
          schema={eggCaseEndSchema}
          action={endEggCaseAction}
          workspace={workspace}
          defaultValues={{ eggCase: eggCase.id, version: eggCase.version, on: today, end: 'spent' }}
          onDone={() => {
            close()
            done(`${eggCase.label} has ended. Its records stay.`)
          }}
          submitLabel="End it"
        >
          <p className="text-small text-soft">
            Before one goes into the bin: at least 48 hours at −18 °C. Wild populations have started from
            discarded egg cases.
          </p>
          <FormRadio
            name="end"
            label="What became of it"
            choices={EGG_CASE_ENDS.map((value) => ({ value, label: EGG_CASE_END_WORDS[value] }))}
          />
          <FormDate name="on" label="On" />
        </RecordForm>
      )}
    </DialogButton>
  )
}
