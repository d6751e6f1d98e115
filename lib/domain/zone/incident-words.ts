import type { PlainDate } from '../calendar/date'
import { wallClock } from '../calendar/instant'
import { writeDay } from '../calendar/wording'
import type { IncidentKind } from './incident'
import { type TemperatureUnit, writeTemperature } from './temperature-unit'

export const INCIDENT_WORDS: Record<IncidentKind, string> = {
  too_hot: 'Too hot',
  too_cold: 'Too cold',
  silent: 'No readings',
}

/** The most urgent first: heat kills within hours, cold slows, silence may be either. */
export const INCIDENT_ORDER: Record<IncidentKind, number> = { too_hot: 0, too_cold: 1, silent: 2 }

export type ToldIncident = {
  kind: IncidentKind
  zoneName: string
  extremeC: number | null
  limitC: number | null
}

/** "Too hot: Warm shelf, up to 34.2 °C" */
export function sayIncident({ kind, zoneName, extremeC }: ToldIncident, unit: TemperatureUnit): string {
  const words = `${INCIDENT_WORDS[kind]}: ${zoneName}`
  if (extremeC === null) return words
  return `${words}, ${kind === 'too_hot' ? 'up' : 'down'} to ${writeTemperature(extremeC, unit)}`
}

/** "above 31 °C" */
export function sayLimit({ kind, limitC }: ToldIncident, unit: TemperatureUnit): string {
  if (limitC === null) return 'no reading came in'
  return `${kind === 'too_hot' ? 'above' : 'below'} ${writeTemperature(limitC, unit)}`
}

type Span = { beganMs: number; endedMs: number | null }

/** "since 14:05", "from 24 Nov 14:05 until 16:40": on the wall's clock. */
export function saySpan({ beganMs, endedMs }: Span, timeZone: string, today: PlainDate): string {
  const began = wallClock(beganMs, timeZone)
  const day = (on: PlainDate) => (on === today ? '' : `${writeDay(on, today)} `)
  const from = `${day(began.on)}${began.time}`
  if (endedMs === null) return `since ${from}`
  const ended = wallClock(endedMs, timeZone)
  return `from ${from} until ${ended.on === began.on ? '' : day(ended.on)}${ended.time}`
}

/** What to look at first, in the order in which it helps. The cautions stand with the steps they belong to. */
export const FIRST_CHECKS: Record<IncidentKind, readonly string[]> = {
  too_hot: [
    'Take the heat away before looking for the cause: switch the heater off at its plug, open the room, shade a window.',
    'Smell of burning, a hot plug, a damp socket: touch nothing there, cut the power at the fuse, and have an electrician look before anything is switched on again.',
    'Carry the smallest and the freshly moulted to a cooler place first, without shaking. Do not put them into the cold.',
    'Mist lightly and offer drops to drink. Do not feed until they move as usual.',
    'Then the thermostat: has its probe fallen out, does it stand in the sun, has its relay stuck?',
    'Hang a second thermometer beside the sensor before you trust either.',
  ],
  too_cold: [
    'Look whether the heater has power: plug, fuse, timer. A damp or scorched plug is for an electrician, not for you.',
    'Warm slowly, by a few degrees an hour. No hot-water bottle, lamp or hair dryer against a cup.',
    'Leave animals that hang still where they are: moving a cold one costs legs. Nothing is fed until it is warm.',
    'Keep egg cases dry while they are cold; mist them once they are warm again.',
    'Then doors, windows and the night setting of the thermostat.',
  ],
  silent: [
    'Read a thermometer in the room and write it down: a silent sensor says nothing about the animals.',
    'Then its battery or plug, and whether the network and the token still work.',
    'If the room has no power, heaters and fans are off as well: look after the warmth first.',
  ],
}

export const VET_WORDS =
  'For animals that lie, cramp or do not drink, ask a vet who knows invertebrates. What the law where you are asks of you about losses or electrics comes before any of this.'
