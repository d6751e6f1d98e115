'use client'

import { useState } from 'react'
import type { CupSign, DeviceRound, GroupSeen, Skin } from '@/components/moult-round/device-round'
import { Button } from '@/components/ui/button'
import { Notice } from '@/components/ui/notice'
import { RadioGroup } from '@/components/ui/radio-group'
import { writeCount } from '@/lib/domain/calendar/wording'
import { GROWTH_SIGN_WORDS, GROWTH_SIGNS } from '@/lib/domain/individual/growth-sign'
import type { RoundShelfView } from '@/lib/features/moult/loaders'
import { type CupMark, CupTile } from './cup-tile'
import { GroupTile } from './group-tile'

type Props = {
  shelf: RoundShelfView
  round: DeviceRound
  today: string
  onSkin: (id: string, skin: Skin | null) => void
  onSigns: (id: string, signs: CupSign[]) => void
  onGroup: (id: string, seen: GroupSeen | null) => void
  onPass: () => void
  onReopen: () => void
}

export function ShelfPart(props: Props) {
  const { shelf, round, today, onSkin, onSigns, onGroup, onPass } = props
  const [marks, setMarks] = useState<CupMark>('skin')
  const isPassed = round.passed.includes(shelf.key)
  const skins = shelf.cups.filter(({ id }) => round.skins[id]).length
  const titleId = `shelf-${shelf.key.replace(/\W/g, '-')}`
  return (
    <section className="mt-7" aria-labelledby={titleId}>
      <h2 id={titleId}>{titleOf(shelf)}</h2>
      {isPassed ? (
        <PassedShelf {...props} />
      ) : (
        <>
          {shelf.cups.length > 0 ? <MarkChoice name={titleId} marks={marks} onMarks={setMarks} /> : null}
          {shelf.cups.length > 0 ? (
            <ul className="mt-2 grid grid-cols-2 gap-2 desk:grid-cols-4">
              {shelf.cups.map((cup) => (
                <CupTile
                  key={cup.id}
                  cup={cup}
                  skin={round.skins[cup.id] ?? null}
                  marks={marks}
                  today={today}
                  onSkin={(skin) => onSkin(cup.id, skin)}
                  signs={round.signs?.[cup.id] ?? []}
                  onSigns={(signs) => onSigns(cup.id, signs)}
                />
              ))}
            </ul>
          ) : null}
          {shelf.groups.length > 0 ? (
            <ul className="mt-2 space-y-3">
              {shelf.groups.map((group) => (
                <GroupTile
                  key={group.id}
                  group={group}
                  seen={round.groups[group.id] ?? null}
                  onSeen={(seen) => onGroup(group.id, seen)}
                />
              ))}
            </ul>
          ) : null}
          <div className="mt-3">
            <Button kind="plain" isWide className="min-h-14 desk:w-auto" onClick={onPass}>
              Shelf passed{skins > 0 ? `: ${writeCount(skins, 'skin')}` : ''}
            </Button>
          </div>
        </>
      )}
    </section>
  )
}

const MARKS: { value: CupMark; label: string }[] = [
  { value: 'skin', label: 'A skin' },
  ...GROWTH_SIGNS.map((value) => ({ value, label: GROWTH_SIGN_WORDS[value] })),
]

type MarkChoiceProps = { name: string; marks: CupMark; onMarks: (marks: CupMark) => void }

/** What a touch of a cup says; a skin unless something else was chosen. */
function MarkChoice({ name, marks, onMarks }: MarkChoiceProps) {
  return (
    <div className="mt-1 mb-2 max-w-lg">
      <RadioGroup
        label="A touch marks"
        name={name}
        choices={MARKS}
        look="tiles"
        value={marks}
        onChange={({ target }) => onMarks(MARKS.find(({ value }) => value === target.value)?.value ?? 'skin')}
      />
    </div>
  )
}

function titleOf({ zoneName, kindName, part }: RoundShelfView): string {
  const where = `${zoneName}, ${kindName ?? 'clutches together'}`
  return part ? `${where}, ${part.from}–${part.until} of ${part.of}` : where
}

function PassedShelf({ shelf, round, onReopen }: Props) {
  const waiting = round.queue.filter(({ shelfKey }) => shelfKey === shelf.key)
  const refused = waiting.filter(({ trouble }) => trouble)
  const recorded = round.recorded[shelf.key]
  if (refused.length > 0)
    return (
      <div className="mt-2">
        <Notice
          state="late"
          isAnnounced
          what="This shelf was not taken as it is."
          why={
            <ul>
              {refused.flatMap(({ id, trouble }) =>
                (trouble?.fields.length
                  ? trouble.fields
                  : [{ path: id, message: trouble?.message ?? '' }]
                ).map(({ path, message }) => <li key={`${id} ${path}`}>{message}</li>),
              )}
            </ul>
          }
          next={<Button onClick={onReopen}>Look at the shelf again</Button>}
        />
      </div>
    )
  if (waiting.length > 0)
    return (
      <p className="mt-2 flex flex-wrap items-center gap-3">
        Passed, waiting to send.
        <Button kind="quiet" onClick={onReopen}>
          Undo
        </Button>
      </p>
    )
  return (
    <div className="mt-2" role="status">
      <p>
        {recorded && recorded.looks > 0
          ? `Recorded: ${writeCount(recorded.looks, 'cup')} seen, ${writeCount(recorded.moults, 'moult')}.`
          : 'Passed.'}
      </p>
      {recorded?.warnings.map((warning) => (
        <p key={warning} className="mt-1 text-small text-soft">
          {warning}
        </p>
      ))}
    </div>
  )
}
