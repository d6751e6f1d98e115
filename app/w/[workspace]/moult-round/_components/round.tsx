'use client'

import { useRouter } from 'next/navigation'
import { useEffect } from 'react'
import {
  type CupSign,
  type DeviceRound,
  type GroupSeen,
  isUnsent,
  newRound,
  passShelf,
  reopenShelf,
  type Skin,
} from '@/components/moult-round/device-round'
import { useRound } from '@/components/moult-round/use-round'
import { writeDay } from '@/lib/domain/calendar/wording'
import type { MoultRoundPage, RoundShelfView } from '@/lib/features/moult/loaders'
import { DamagedRound } from './damaged-round'
import { RoundFoot } from './round-foot'
import { RoundTrouble } from './round-trouble'
import { ShelfPart } from './shelf-part'

const newId = () => crypto.randomUUID()

/** The walk: shelf after shelf, kept on this device until the service has taken it. */
export function Round({ workspace, page }: { workspace: string; page: MoultRoundPage }) {
  const { workspaceId, personId, today, shelves } = page
  const { keeper, kept } = useRound({ workspace, workspaceId, personId })
  const router = useRouter()
  const walked = kept.round
  const isOver = walked?.isFinished === true && walked.queue.length === 0
  const round = walked ?? newRound('', today)
  const open = shelves.filter(({ key }) => !round.passed.includes(key))

  // A finished round of an earlier day is over; today's stays on the screen, so that it can be seen what was recorded.
  useEffect(() => {
    if (isOver && walked && walked.on < today) keeper.change(null)
  }, [isOver, walked, today, keeper])
  useEffect(() => {
    if (isOver) router.refresh()
  }, [isOver, router])

  const change = (next: (round: DeviceRound) => DeviceRound) =>
    keeper.change(next(keeper.getKept().round ?? newRound(newId(), today)))
  const setSkin = (id: string, skin: Skin | null) =>
    change((before) => {
      const { [id]: _gone, ...others } = before.skins
      return { ...before, skins: skin ? { ...others, [id]: skin } : others }
    })
  const setSigns = (id: string, signs: CupSign[]) =>
    change((before) => {
      const { [id]: _gone, ...others } = before.signs ?? {}
      return { ...before, signs: signs.length > 0 ? { ...others, [id]: signs } : others }
    })
  const setGroup = (id: string, seen: GroupSeen | null) =>
    change((before) => {
      const { [id]: _gone, ...others } = before.groups
      return { ...before, groups: seen ? { ...others, [id]: seen } : others }
    })
  const pass = (passed: readonly RoundShelfView[], isLast: boolean) =>
    change((before) =>
      passed.reduce(
        (so, shelf, index) => passShelf(so, shelf, { isLast: isLast && index === passed.length - 1, newId }),
        before,
      ),
    )
  return (
    <>
      {walked && walked.on !== today ? (
        <p className="mt-3 font-semibold">
          This round was begun on {writeDay(walked.on, today)}. Its skins are dated that day.
        </p>
      ) : null}
      {kept.damaged ? <DamagedRound text={kept.damaged} onForget={keeper.forgetDamaged} /> : null}
      <RoundTrouble kept={kept} onSend={keeper.drain} isUnsent={walked !== null && isUnsent(walked)} />
      {shelves.map((shelf) => (
        <ShelfPart
          key={shelf.key}
          shelf={shelf}
          round={round}
          today={round.on}
          onSkin={setSkin}
          onSigns={setSigns}
          onGroup={setGroup}
          onPass={() => pass([shelf], open.length === 1)}
          onReopen={() => change((before) => reopenShelf(before, shelf.key))}
        />
      ))}
      <RoundFoot
        round={round}
        link={kept.link}
        openShelves={open.length}
        isOver={isOver}
        isBegun={walked !== null}
        onFinish={() => pass(open, true)}
        onNew={() => {
          keeper.change(null)
          router.refresh()
        }}
      />
    </>
  )
}
