'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import type { ListedValue } from '@/lib/domain/care-profile/value-list'
import type { OwnValue } from '@/lib/domain/growth/own-value'
import { changeProfileValueAction } from '@/lib/features/species/actions'
import type { EditPlace } from './change-value'
import { sayValue } from './say-value'

type Props = { listed: ListedValue; own: OwnValue | undefined; edit: EditPlace | undefined }

/** What own records say of a value, and one tap to make it the value. */
export function OwnRecords({ listed, own, edit }: Props) {
  const done = useDone()
  if (!own) return null
  const { unit } = listed
  const said = sayValue({ value: own.value, unit })
  const range =
    own.low === own.high
      ? ''
      : ` (${sayValue({ value: own.low, unit: '' })}–${sayValue({ value: own.high, unit: '' })})`
  const from = `from ${own.count} ${plural(own)} of yours`
  return (
    <div className="mt-1 flex flex-wrap items-center gap-x-3 text-ink">
      <p>
        Your records: <strong>{said}</strong>
        {range}, {from}
      </p>
      {edit && own.value !== listed.value ? (
        <div className="no-print">
          <ActionButton
            action={changeProfileValueAction}
            workspace={edit.workspace}
            input={{
              speciesId: edit.speciesId,
              version: edit.version,
              path: own.path,
              value: own.value,
              note: `Taken over ${from}`,
            }}
            kind="quiet"
            onDone={() => done(`${listed.label} is now ${said}.`)}
          >
            Take it over
          </ActionButton>
        </div>
      ) : null}
    </div>
  )
}

function plural({ of, count }: OwnValue): string {
  if (count === 1) return of
  if (of === 'hatch') return 'hatches'
  return of === 'clutch' ? 'clutches' : `${of}s`
}
