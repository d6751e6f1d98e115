import type { PlainDate } from '../calendar/date'
import { writeDay } from '../calendar/wording'

export type IncidentKind = 'too_hot' | 'too_cold' | 'silent'

/** A time of too much warmth or cold, as days: from the day it began until the day on which it has been over for two. */
export type DayHeat = { kind: IncidentKind; beganOn: PlainDate; clearOn: PlainDate | null }

const SAID: Record<IncidentKind, string> = {
  too_hot: 'was too hot',
  too_cold: 'was too cold',
  silent: 'sent no readings',
}

/** What a buyer's journey should wait for: an animal that stood in a zone while it was too hot or too cold. */
export function incidentWarning(incidents: readonly DayHeat[], today: PlainDate): string | null {
  const found = incidents.find(
    ({ kind, beganOn, clearOn }) =>
      kind !== 'silent' && beganOn <= today && (clearOn === null || today <= clearOn),
  )
  if (!found) return null
  const since = `Its zone ${SAID[found.kind]} on ${writeDay(found.beganOn, today)}`
  return found.clearOn === null
    ? `${since} and has not been inside its limits since: nothing from it travels before 48 hours have passed.`
    : `${since}: nothing from it travels for 48 hours, so not before ${writeDay(found.clearOn, today)} is over.`
}
