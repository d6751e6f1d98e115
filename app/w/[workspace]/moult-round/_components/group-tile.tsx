'use client'

import type { GroupSeen } from '@/components/moult-round/device-round'
import { Button } from '@/components/ui/button'
import { Checkbox } from '@/components/ui/checkbox'
import { LatinName } from '@/components/ui/latin-name'
import { RadioGroup } from '@/components/ui/radio-group'
import { MOULTED_SHARES, MOULTED_WORDS, type MoultedShare } from '@/lib/domain/separation/sighting'
import type { RoundGroup } from '@/lib/features/moult/loaders'

const SHARES = MOULTED_SHARES.map((value) => ({ value, label: MOULTED_WORDS[value] }))
const isShare = (value: string): value is MoultedShare => SHARES.some((share) => share.value === value)

type Props = { group: RoundGroup; seen: GroupSeen | null; onSeen: (seen: GroupSeen | null) => void }

/** Siblings together: a word for all of them. Passing them without a word says nothing. */
export function GroupTile({ group, seen, onSeen }: Props) {
  const { id, label, scientificName, together } = group
  return (
    <li className="rounded-edge border border-edge bg-sheet px-3 py-3">
      <RadioGroup
        name={`moulted-${id}`}
        label={
          <>
            {label} <LatinName name={scientificName} />, {together} together: have moulted
          </>
        }
        choices={SHARES}
        look="tiles"
        value={seen?.moulted ?? ''}
        onChange={({ target }) =>
          isShare(target.value) && onSeen({ sizeGap: false, hunger: false, ...seen, moulted: target.value })
        }
      />
      {seen ? (
        <div className="mt-2 flex flex-wrap items-center gap-x-6">
          <Checkbox
            label="Two sizes side by side"
            checked={seen.sizeGap}
            onChange={({ target }) => onSeen({ ...seen, sizeGap: target.checked })}
          />
          <Checkbox
            label="Hungry"
            checked={seen.hunger}
            onChange={({ target }) => onSeen({ ...seen, hunger: target.checked })}
          />
          <Checkbox
            label="Refuse food"
            checked={seen.refusesFood ?? false}
            onChange={({ target }) => onSeen({ ...seen, refusesFood: target.checked })}
          />
          <Checkbox
            label="Wing buds"
            checked={seen.wingBuds ?? false}
            onChange={({ target }) => onSeen({ ...seen, wingBuds: target.checked })}
          />
          <Button kind="quiet" onClick={() => onSeen(null)}>
            Undo
          </Button>
        </div>
      ) : null}
    </li>
  )
}
