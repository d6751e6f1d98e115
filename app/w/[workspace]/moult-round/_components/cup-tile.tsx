'use client'

import { clsx } from 'clsx'
import { useTouchGuard } from '@/components/bench/use-touch-guard'
import type { CupSign, Skin } from '@/components/moult-round/device-round'
import { DateField } from '@/components/ui/date-field'
import { LatinName } from '@/components/ui/latin-name'
import { Select } from '@/components/ui/select'
import { StateMark } from '@/components/ui/state-mark'
import { writeDay } from '@/lib/domain/calendar/wording'
import { GROWTH_SIGN_WORDS, GROWTH_SIGNS } from '@/lib/domain/individual/growth-sign'
import { formatCode } from '@/lib/domain/label/code'
import type { RoundCup } from '@/lib/features/moult/loaders'

export type CupMark = 'skin' | CupSign

const OUTCOMES = [
  { value: 'good', label: 'Went well' },
  { value: 'bad', label: 'Bad moult' },
  { value: 'lost_limb', label: 'Lost a limb' },
]
const isOutcome = (value: string): value is Skin['outcome'] => OUTCOMES.some((one) => one.value === value)

type Props = {
  cup: RoundCup
  skin: Skin | null
  signs: readonly CupSign[]
  /** What a touch marks: a skin, or a sign that one is to come. */
  marks: CupMark
  today: string
  onSkin: (skin: Skin | null) => void
  onSigns: (signs: CupSign[]) => void
}

/** One cup: the whole tile is the target, and a second touch takes the first one back. */
export function CupTile({ cup, skin, signs, marks, today, onSkin, onSigns }: Props) {
  const guard = useTouchGuard()
  const toggleSign = (sign: CupSign) =>
    onSigns(signs.includes(sign) ? signs.filter((one) => one !== sign) : [...signs, sign])
  const toggle = (atMs: number) =>
    guard(atMs, () => {
      if (marks !== 'skin') return toggleSign(marks)
      onSkin(skin ? null : { outcome: 'good', final: false, seenFrom: '' })
    })
  const isMarked = marks === 'skin' ? skin !== null : signs.includes(marks)
  return (
    <li className={clsx('min-w-0', skin && 'col-span-full border-ink border-s-4 ps-2')}>
      <button
        type="button"
        aria-pressed={isMarked}
        onClick={(event) => toggle(event.timeStamp)}
        className={clsx(
          'flex min-h-24 w-full items-start gap-2 rounded-edge border px-2 py-2 text-start desk:gap-3 desk:px-3',
          skin ? 'border-ink bg-ink text-sheet' : 'border-edge bg-sheet hover:bg-wash',
        )}
      >
        <SkinShape isThere={skin !== null} />
        <span className="min-w-0 flex-1">
          <span className="block font-semibold text-lead leading-tight">{formatCode(cup.label)}</span>
          <span className="block text-small">
            {cup.stage}
            {cup.sex === 'unsexed' ? '' : `, ${cup.sex}`}
          </span>
          <span className="block break-words text-small">
            <LatinName name={cup.scientificName} />
          </span>
          {skin ? (
            <span className="block font-semibold text-small">a skin</span>
          ) : signs.length > 0 ? (
            <span className="block font-semibold text-small">
              {GROWTH_SIGNS.filter((sign) => signs.includes(sign))
                .map((sign) => GROWTH_SIGN_WORDS[sign].toLowerCase())
                .join(', ')}
            </span>
          ) : (
            <span className="block text-fine-print">
              {cup.words ? (
                <StateMark state={cup.words.state} word={cup.words.word} />
              ) : (
                <span className="text-soft">
                  {cup.lastSeenOn ? `seen ${writeDay(cup.lastSeenOn, today)}` : 'not seen of late'}
                </span>
              )}
            </span>
          )}
        </span>
      </button>
      {skin ? <SkinDetails {...{ cup, skin, today, onSkin }} /> : null}
    </li>
  )
}

function SkinShape({ isThere }: { isThere: boolean }) {
  return (
    <svg viewBox="0 0 24 24" className="mt-0.5 size-7 shrink-0" aria-hidden="true">
      <rect x="3" y="3" width="18" height="18" fill="none" stroke="currentColor" strokeWidth="2" />
      {isThere ? <path d="m7 12.5 3.5 3.5L17 8.5" fill="none" stroke="currentColor" strokeWidth="3" /> : null}
    </svg>
  )
}

type DetailsProps = Pick<Props, 'cup' | 'today' | 'onSkin'> & { skin: Skin }

function SkinDetails({ cup, skin, today, onSkin }: DetailsProps) {
  const since = skin.seenFrom || cup.seenFrom
  return (
    <div className="mt-2 mb-3 grid gap-3 desk:grid-cols-3">
      <Select
        label="How it went"
        choices={OUTCOMES}
        value={skin.outcome}
        onChange={({ target }) => isOutcome(target.value) && onSkin({ ...skin, outcome: target.value })}
      />
      <DateField
        label="Last seen without"
        hint={
          since && since !== today
            ? `Moulted between ${writeDay(since, today)} and ${writeDay(today, today)}.`
            : `Counts as moulted on ${writeDay(today, today)}.`
        }
        max={today}
        value={since ?? ''}
        onChange={({ target }) => onSkin({ ...skin, seenFrom: target.value })}
      />
      {cup.mayBeFinal ? (
        <label className="target flex items-center gap-3 self-start desk:mt-6">
          <input
            type="checkbox"
            className="size-5"
            checked={skin.final}
            onChange={({ target }) => onSkin({ ...skin, final: target.checked })}
          />
          Adult now
        </label>
      ) : null}
    </div>
  )
}
