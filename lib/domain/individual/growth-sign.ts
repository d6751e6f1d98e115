import { addDays, type PlainDate } from '../calendar/date'
import { type GrowthRecord, lastMoultOn } from './record'

/**
 * What somebody saw of one animal that says how far it is: wing buds swell in the last instar before the adult, and
 * food is refused in the days before a moult.
 */
export const GROWTH_SIGNS = ['wing_buds', 'refuses_food'] as const
export type GrowthSign = (typeof GROWTH_SIGNS)[number]
export type SeenSign = { kind: GrowthSign; on: PlainDate }

export const GROWTH_SIGN_WORDS: Record<GrowthSign, string> = {
  wing_buds: 'Wing buds',
  refuses_food: 'Refuses food',
}

/** Still soft, it refuses as well: that says nothing of the next moult (default, days). */
const SOFT_DAYS = 2

/** Seen in the present instar: then the next moult is the final one. */
export function hasWingBuds(record: GrowthRecord): boolean {
  const began = lastMoultOn(record)
  return (record.signs ?? []).some(({ kind, on }) => kind === 'wing_buds' && (began === null || on >= began))
}

type Fed = { lastFedOn?: PlainDate | null; lastRefusedOn?: PlainDate | null }

/** The last day on which it refused food in the present instar; null where it has eaten since, or never refused. */
export function refusedFoodOn(record: GrowthRecord & Fed, today: PlainDate): PlainDate | null {
  const began = lastMoultOn(record)
  const { lastFedOn = null, lastRefusedOn = null } = record
  const seen = (record.signs ?? []).flatMap(({ kind, on }) => (kind === 'refuses_food' ? [on] : []))
  const days = [...seen, ...(lastRefusedOn === null ? [] : [lastRefusedOn])].filter((on) => on <= today)
  const last = days.sort().at(-1)
  if (last === undefined || (began !== null && last <= addDays(began, SOFT_DAYS))) return null
  return lastFedOn !== null && lastFedOn <= today && lastFedOn >= last ? null : last
}
