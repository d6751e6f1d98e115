import { addDays, dayNumber, maxDate, minDate, type PlainDate } from '../calendar/date'
import type { CareProfile } from '../care-profile/profile'
import { developmentClock, effectiveDaysAt, thresholdsOf } from '../development/clock'
import { countsFrom, eggCaseHistory } from '../hatch/egg-clock'
import type { Laid } from '../hatch/forecast'
import type { HatchRecord } from '../hatch/learning'
import { historyOfZoneStays, type Stay, staysAsOf, type ZonesById } from '../zone/history'

/** An egg case as it is kept. */
export type KeptEggCase = {
  id: string
  motherId: string | null
  laid: Laid | null
  coldRest: { startedOn: PlainDate; plannedEndOn: PlainDate | null; endedOn: PlainDate | null } | null
  stays: readonly Stay[]
  hatches: readonly { on: PlainDate; likely: number }[]
  endedOn: PlainDate | null
  /** Ended as infertile; other ends (given away, discarded, wasps) leave open what it was. */
  isInfertile: boolean
}

const OLDEST_RECEIVED_DAYS = 28

/** What egg cases say of incubation, fertility and counts. Their order of one mother is that of the laying. */
export function hatchRecords(
  profile: CareProfile,
  eggCases: readonly KeptEggCase[],
  known: { zones: ZonesById; asOf: PlainDate },
): HatchRecord[] {
  const present = eggCases.filter(({ laid }) => laid !== null && firstDay(laid) <= known.asOf)
  const orders = ordersByMother(present)
  return present.map((eggCase) => ({
    eggCaseId: eggCase.id,
    femaleId: eggCase.motherId,
    order: orders.get(eggCase.id) ?? null,
    ...outcome(profile, eggCase, known),
  }))
}

function ordersByMother(eggCases: readonly KeptEggCase[]): Map<string, number> {
  const sorted = [...eggCases].sort((a, b) => {
    const [one, other] = [a.laid ? firstDay(a.laid) : '', b.laid ? firstDay(b.laid) : '']
    return one < other ? -1 : one > other ? 1 : a.id < b.id ? -1 : 1
  })
  const counts = new Map<string, number>()
  return new Map(
    sorted.flatMap(({ id, motherId }) => {
      if (motherId === null) return []
      const order = (counts.get(motherId) ?? 0) + 1
      counts.set(motherId, order)
      return [[id, order] as const]
    }),
  )
}

function outcome(
  profile: CareProfile,
  eggCase: KeptEggCase,
  { zones, asOf }: { zones: ZonesById; asOf: PlainDate },
): Pick<HatchRecord, 'hatchedAfter' | 'hasHatched' | 'nymphs'> {
  const hatches = eggCase.hatches.filter(({ on }) => on <= asOf)
  const first = hatches.map(({ on }) => on).sort()[0] ?? null
  const isOver = eggCase.endedOn !== null && eggCase.endedOn <= asOf
  const lastWaited = isOver ? minDate(eggCase.endedOn!, asOf) : asOf
  const span = incubationSpan(profile, eggCase, { zones, from: first ?? lastWaited, asOf })
  if (first) {
    const nymphs = hatches.reduce((sum, { likely }) => sum + likely, 0)
    return { hatchedAfter: span ?? { from: 0, until: null }, hasHatched: true, nymphs }
  }
  const hasHatched = isOver && eggCase.isInfertile ? false : null
  return { hatchedAfter: { from: span?.from ?? 0, until: null }, hasHatched, nymphs: null }
}

/**
 * Effective days from the laying to a day, between the latest and the earliest it may have been laid, the day of the
 * hatch itself counting whole. Null where nothing is known of its warmth.
 */
function incubationSpan(
  profile: CareProfile,
  eggCase: KeptEggCase,
  { zones, from: on, asOf }: { zones: ZonesById; from: PlainDate; asOf: PlainDate },
): { from: number; until: number } | null {
  const lived = historyOfZoneStays(staysAsOf(eggCase.stays, asOf), zones)
  if (lived.length === 0 || eggCase.laid === null) return null
  const rest = { coldRest: eggCase.coldRest, today: asOf }
  const history = eggCaseHistory(profile, { history: lived, ...rest })
  const clock = developmentClock(history, thresholdsOf(profile))
  const spent = (laidOn: PlainDate, untilDay: number) =>
    effectiveDaysAt(clock, untilDay) -
    effectiveDaysAt(clock, dayNumber(countsFrom(profile, { laidOn, ...rest })))
  const day = dayNumber(on)
  return {
    from: Math.max(0, spent(lastDay(eggCase.laid), day)),
    until: Math.max(0.1, spent(firstDay(eggCase.laid), day + 1)),
  }
}

function firstDay(laid: Laid): PlainDate {
  if (laid.kind === 'range') return laid.from
  return laid.kind === 'received' ? addDays(laid.on, -(laid.oldestDays ?? OLDEST_RECEIVED_DAYS)) : laid.on
}

function lastDay(laid: Laid): PlainDate {
  return laid.kind === 'range' ? maxDate(laid.from, laid.until) : laid.on
}
