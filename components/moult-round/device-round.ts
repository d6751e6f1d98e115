import type { MoultedShare } from '@/lib/domain/separation/sighting'

/** What was tapped on a cup that has a skin. `seenFrom` is empty where the last look is to say it. */
export type Skin = { outcome: 'good' | 'bad' | 'lost_limb'; final: boolean; seenFrom: string }
/** What a cup without a skin showed. */
export type CupSign = 'wing_buds' | 'refuses_food'
/** Kept by an earlier page it has no signs of a moult. */
export type GroupSeen = {
  moulted: MoultedShare
  sizeGap: boolean
  hunger: boolean
  wingBuds?: boolean
  refusesFood?: boolean
}

/** Something to be sent, under its own key, until the service has said what became of it. */
export type Sending = {
  id: string
  shelfKey: string
  kind: 'shelf' | 'clutch'
  input: Record<string, unknown>
  trouble?: { message: string; fields: { path: string; message: string }[] }
}

export type Recorded = { looks: number; moults: number; warnings: string[] }

/** One walk as this device knows it. It is dated by the day on which it was begun. */
export type DeviceRound = {
  round: string
  on: string
  skins: Record<string, Skin>
  groups: Record<string, GroupSeen>
  /** By cup; a round kept by an earlier page has none. */
  signs?: Record<string, CupSign[]>
  /** Keys of shelves that were passed: on their way, or recorded. */
  passed: string[]
  recorded: Record<string, Recorded>
  queue: Sending[]
  isFinished: boolean
}

export function newRound(round: string, on: string): DeviceRound {
  return { round, on, skins: {}, groups: {}, passed: [], recorded: {}, queue: [], isFinished: false }
}

export type PassedShelf = { key: string; cups: readonly { id: string }[]; groups: readonly { id: string }[] }

/** A shelf is passed: whatever has no skin was looked at. Groups of which nothing was said are not. */
export function passShelf(
  round: DeviceRound,
  shelf: PassedShelf,
  { isLast, newId }: { isLast: boolean; newId: () => string },
): DeviceRound {
  const { on } = round
  const skins = shelf.cups.flatMap(({ id }) => {
    const skin = round.skins[id]
    if (!skin) return []
    const { seenFrom, ...rest } = skin
    return [{ individual: id, ...rest, ...(seenFrom ? { seenFrom } : {}) }]
  })
  const passed = shelf.cups.filter(({ id }) => !round.skins[id]).map(({ id }) => id)
  const signs = passed.flatMap((individual) =>
    (round.signs?.[individual] ?? []).map((sign) => ({ individual, sign })),
  )
  const input = { round: round.round, on, skins, passed, signs, isLast }
  const cups: Sending[] =
    shelf.cups.length > 0 || isLast ? [{ id: newId(), shelfKey: shelf.key, kind: 'shelf', input }] : []
  const groups = shelf.groups.flatMap(({ id }): Sending[] => {
    const seen = round.groups[id]
    if (!seen) return []
    return [{ id: newId(), shelfKey: shelf.key, kind: 'clutch', input: { clutch: id, on, ...seen } }]
  })
  return {
    ...round,
    passed: [...round.passed, shelf.key],
    queue: [...round.queue, ...groups, ...cups],
    isFinished: round.isFinished || isLast,
  }
}

/** Opens a shelf again that has not been accepted: what was tapped on it is still there. */
export function reopenShelf(round: DeviceRound, key: string): DeviceRound {
  return {
    ...round,
    passed: round.passed.filter((passed) => passed !== key),
    queue: round.queue.filter(({ shelfKey }) => shelfKey !== key),
    isFinished: false,
  }
}

/** What the service said of a sending: recorded, or to be looked at again. */
export function settleSending(
  round: DeviceRound,
  id: string,
  said: { recorded: Recorded } | { trouble: NonNullable<Sending['trouble']> },
): DeviceRound {
  const sending = round.queue.find((one) => one.id === id)
  if (!sending) return round
  if ('trouble' in said)
    return {
      ...round,
      queue: round.queue.map((one) => (one.id === id ? { ...one, trouble: said.trouble } : one)),
    }
  const before = round.recorded[sending.shelfKey] ?? { looks: 0, moults: 0, warnings: [] }
  const { looks, moults, warnings } = said.recorded
  return {
    ...round,
    queue: round.queue.filter((one) => one.id !== id),
    recorded: {
      ...round.recorded,
      [sending.shelfKey]: {
        looks: before.looks + looks,
        moults: before.moults + moults,
        warnings: [...before.warnings, ...warnings],
      },
    },
  }
}

/** Whether something stands on this device alone. */
export function isUnsent({ queue, skins, groups, signs = {}, passed, recorded }: DeviceRound): boolean {
  const tapped = [skins, groups, signs].flatMap((taps) => Object.keys(taps))
  const isOpen = tapped.length > 0 && passed.length === 0
  return queue.length > 0 || isOpen || passed.some((key) => !recorded[key])
}
