'use client'

import { useController } from 'react-hook-form'
import { Checkbox } from '@/components/ui/checkbox'
import { useFieldSpeech } from '@/components/ui/form/form-labels'
import type { Watcher } from '@/lib/features/watch/data'

/** Who is called: a box for each person who could look after it. */
export function WatcherChoice({ people }: { people: readonly Watcher[] }) {
  const { field, fieldState } = useController({ name: 'watchers' })
  useFieldSpeech('watchers', 'Called')
  const chosen: string[] = Array.isArray(field.value) ? field.value : []
  return (
    <fieldset className="min-w-0">
      <legend className="mb-1 font-semibold text-small">Who is called</legend>
      {people.map(({ personId, displayName, email }, index) => (
        <Checkbox
          key={personId}
          name="watchers"
          label={displayName}
          hint={email}
          checked={chosen.includes(personId)}
          error={index === 0 ? fieldState.error?.message : undefined}
          onChange={({ target }) =>
            field.onChange(target.checked ? [...chosen, personId] : chosen.filter((id) => id !== personId))
          }
        />
      ))}
    </fieldset>
  )
}
