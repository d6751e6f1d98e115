import { daysBetween, type PlainDate } from '../calendar/date'
import type { CareProfile } from '../care-profile/profile'
import type { EntryState } from '../head-count/head-count'
import { type KnownSurroundings, type LivedRecord, type Outlook, outlookOf } from '../individual/outlook'
import { whereaboutsSentence } from '../individual/whereabouts'
import { type KnownZone, staysAsOf } from '../zone/history'
import { type DayHeat, incidentWarning } from '../zone/incident'
import { checkLeaveToday, type LeaveToday } from './leave-today'

/** An animal as its records have it, with what was last seen of its appetite. */
export type LeavingAnimal = LivedRecord & {
  label: string
  whereabouts: EntryState
  whereaboutsSince: PlainDate | null
  lastFedOn: PlainDate | null
  lastRefusedOn: PlainDate | null
}

/** `profile` null: an animal whose instars nobody has defined; then only where it is can be said. */
export type LeaveSurroundings = Omit<KnownSurroundings, 'profile'> & {
  profile: CareProfile | null
  /** unknown where left out */
  isForBeginner?: boolean
}

export type LeaveOfAnimal = { leave: LeaveToday; outlook: Outlook | null }

/** A refusal older than this says nothing about today. */
const REFUSAL_COUNTS_DAYS = 7

/** May this animal leave on the day, from everything on record about it? */
export function leaveOfAnimal(animal: LeavingAnimal, known: LeaveSurroundings): LeaveOfAnimal {
  const { profile, naming, today } = known
  const { whereabouts } = animal
  const outlook = profile ? outlookOf(animal, { ...known, profile }) : null
  if (whereabouts === 'uncounted' || !profile || !outlook)
    return { leave: leaveByPlace(animal, today), outlook }
  const leave = checkLeaveToday({
    profile,
    today,
    whereabouts,
    moults: outlook.moults,
    isAdult: outlook.isAdult,
    lastMoultOn: outlook.lastMoultOn,
    // Without a temperature nothing is known of the next moult: it is said below instead of guessed.
    forecast: outlook.nextMoult ?? { status: 'adult', reason: '' },
    naming,
    ...(known.isForBeginner === undefined ? {} : { isForBeginner: known.isForBeginner }),
    lastFedOn: animal.lastFedOn,
    isNotEating: isRefusing(animal, outlook.lastMoultOn, today),
    quarantineUntil: presentZone(animal, known)?.quarantineUntil,
    incident: incidentWarning(livedIncidents(animal, known), today),
  })
  return { leave: outlook.nextMoult ? leave : withoutForecast(leave), outlook }
}

/** Where it stands now. */
export function presentZone(
  animal: LeavingAnimal,
  { zones, today }: LeaveSurroundings,
): KnownZone | undefined {
  const stay = staysAsOf(animal.stays, today).findLast(({ until }) => until === null)
  return stay && zones.get(stay.zoneId)
}

/** Of the zones in which it stood while they were too hot or too cold. */
export function livedIncidents(animal: LeavingAnimal, { zones, today }: LeaveSurroundings): DayHeat[] {
  return staysAsOf(animal.stays, today).flatMap(({ zoneId, from, until }) =>
    (zones.get(zoneId)?.incidents ?? []).filter(
      ({ beganOn, clearOn }) => (until === null || beganOn <= until) && (clearOn === null || from < clearOn),
    ),
  )
}

function leaveByPlace(animal: LeavingAnimal, today: PlainDate): LeaveToday {
  if (animal.whereabouts === 'single') return { may: true, blocks: [], warnings: [] }
  const message = whereaboutsSentence(animal, today)
  return { may: false, blocks: [{ code: 'gone', message }], warnings: [] }
}

/** A fast that ended in a moult is explained, and one that ended in a meal is over. */
function isRefusing(
  { lastFedOn, lastRefusedOn }: LeavingAnimal,
  lastMoultOn: PlainDate | null,
  today: PlainDate,
): boolean {
  if (lastRefusedOn === null || (lastFedOn !== null && lastFedOn >= lastRefusedOn)) return false
  if (lastMoultOn !== null && lastMoultOn > lastRefusedOn) return false
  return daysBetween(lastRefusedOn, today) <= REFUSAL_COUNTS_DAYS
}

function withoutForecast(leave: LeaveToday): LeaveToday {
  const message = 'No temperature is known where it stands, so its next moult cannot be foreseen.'
  return { ...leave, warnings: [...leave.warnings, { code: 'chilled', message }] }
}
