'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormNumber } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { FormTemperature } from '@/components/zone/form-temperature'
import type { TemperatureUnit } from '@/lib/domain/zone/temperature-unit'
import { recordWatchAction } from '@/lib/features/watch/actions'
import type { Watcher, WatchRow } from '@/lib/features/watch/data'
import { recordWatchSchema } from '@/lib/features/watch/schema'
import { WatcherChoice } from './watcher-choice'

type Props = {
  workspace: string
  zoneId: string
  unit: TemperatureUnit
  watch: WatchRow | undefined
  people: readonly Watcher[]
}

export function SetWatch({ workspace, zoneId, unit, watch, people }: Props) {
  const done = useDone()
  const defaults = {
    zoneId,
    version: watch?.version ?? 0,
    lowC: watch?.lowC ?? undefined,
    highC: watch?.highC ?? undefined,
    delayMinutes: watch?.delayMinutes ?? 10,
    silenceMinutes: watch?.silenceMinutes ?? undefined,
    watchers: watch?.watchers ?? [],
  }
  return (
    <DialogButton label={watch ? 'Change the watch' : 'Watch this zone'} title="Watch this zone">
      {({ close }) => (
        <RecordForm
          name={`watch-${zoneId}`}
          schema={recordWatchSchema}
          action={recordWatchAction}
          workspace={workspace}
          defaultValues={defaults}
          onDone={() => {
            close()
            done('Set. Readings from now on count.')
          }}
          submitLabel="Watch it"
        >
          <FormTemperature name="highC" label="Too hot above" unit={unit} isOptional />
          <FormTemperature name="lowC" label="Too cold below" unit={unit} isOptional />
          <FormNumber
            name="delayMinutes"
            label="Call after"
            unit="minutes outside"
            isWhole
            hint="A door that stands open for a moment calls nobody."
          />
          <FormNumber
            name="silenceMinutes"
            label="Call as well after"
            unit="minutes without a reading"
            isWhole
            isOptional
          />
          <WatcherChoice people={people} />
          <p className="text-small text-soft">
            A call is a mail and a bar on every open page, again and again until somebody takes it. It warns
            and protects nothing: a heater needs a thermostat and a cut-out of its own, fitted as the rules
            where you are ask.
          </p>
        </RecordForm>
      )}
    </DialogButton>
  )
}
