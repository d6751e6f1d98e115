'use client'

import { useMemo, useState } from 'react'
import { Button } from '@/components/ui/button'
import { DialogButton } from '@/components/ui/dialog'
import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { RadioGroup } from '@/components/ui/radio-group'
import { TextArea } from '@/components/ui/text-field'
import type { ZoneSetPoint } from '@/lib/domain/zone/history'
import { readReadingText } from '@/lib/domain/zone/reading-text'
import type { TemperatureUnit } from '@/lib/domain/zone/temperature-unit'
import { recordPastedReadingsAction } from '@/lib/features/reading/actions'
import { PastePreview } from './paste-preview'
import { UNIT_CHOICES } from './type-reading'

type Ground = { timeZone: string; setPoints: readonly ZoneSetPoint[] }
type Props = { workspace: string; zoneId: string; ground: Ground; unit: TemperatureUnit }

export function PasteReadings(props: Props) {
  const [text, setText] = useState('')
  return (
    <DialogButton label="Paste many readings" title="Paste readings">
      {({ close }) => <PasteForm {...props} draft={{ text, setText }} close={close} />}
    </DialogButton>
  )
}

type FormProps = Props & { draft: { text: string; setText: (text: string) => void }; close: () => void }

/** First it is read and shown, then it is kept, whole or not at all. What was pasted outlives a closed dialog. */
function PasteForm({ workspace, zoneId, ground, unit, draft, close }: FormProps) {
  const done = useDone()
  const [chosen, setChosen] = useState(unit)
  const [looked, setLooked] = useState<{
    text: string
    unit: TemperatureUnit
    isSure: boolean
    nowMs: number
  }>()
  const { text, setText } = draft
  const read = useMemo(
    () => looked && readReadingText(looked.text, { ...ground, ...looked }),
    [looked, ground],
  )
  const isCurrent = looked?.text === text && looked.unit === chosen
  const look = (as: TemperatureUnit, isSure = false) => {
    setChosen(as)
    setLooked({ text, unit: as, isSure, nowMs: Date.now() })
  }
  return (
    <div className="space-y-5">
      <TextArea
        label="Readings"
        hint="A line each: day, time, temperature, and the humidity if there is one. The first line may be a heading."
        rows={8}
        value={text}
        placeholder={'2026-11-24 08:00 26.4 61\n2026-11-24 09:00 26.6 60'}
        onChange={(event) => setText(event.target.value)}
      />
      <RadioGroup
        label="Figures without a unit are in"
        name="unit"
        choices={UNIT_CHOICES}
        look="tiles"
        value={chosen}
        onChange={(event) => setChosen(event.target.value === 'fahrenheit' ? 'fahrenheit' : 'celsius')}
      />
      {read && isCurrent ? (
        <PastePreview
          read={read}
          timeZone={ground.timeZone}
          unit={chosen}
          onReadAs={look}
          onStand={() => look(chosen, true)}
        />
      ) : null}
      {read && isCurrent && read.bad.length === 0 && read.slips === 0 && read.readings.length > 0 ? (
        <ActionButton
          action={recordPastedReadingsAction}
          workspace={workspace}
          input={{ zoneId, text, unit: chosen, isSure: looked?.isSure ?? false }}
          kind="filled"
          onDone={({ added, replaced, unchanged }) => {
            setText('')
            close()
            done(`${added} kept, ${replaced} replaced, ${unchanged} were there already.`)
          }}
        >
          Keep all {read.readings.length}
        </ActionButton>
      ) : (
        <Button kind="filled" onClick={() => look(chosen)}>
          Read it first
        </Button>
      )}
    </div>
  )
}
