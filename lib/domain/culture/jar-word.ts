import type { PlainDate } from '../calendar/date'
import { writeDay } from '../calendar/wording'
import type { CurveValues } from '../prey/line'
import { type TemperatureUnit, writeTemperature } from '../zone/temperature-unit'
import { developmentRate } from './emergence'
import type { JarLaw, PlacedJar } from './jar-law'
import { onsetDay } from './running'

type Named = {
  today: PlainDate
  /** Of the line. */
  curve: CurveValues
  usualStarters: number
  discardAfterDays: number
  zoneName: (zoneId: string) => string
  temperatureOf: (zoneId: string) => number
  unit: TemperatureUnit
}

/** Nearer to the usual share of flies, or days, than this is not worth a sentence. */
const USUAL_YIELD = 0.9
const FEW_DAYS = 2

/** What is different about one jar and changes what to expect of it, each in a sentence. */
export function listJarWords(jar: PlacedJar, own: JarLaw, named: Named): string[] {
  return [...sayMoves(jar, own, named), ...sayWarmth(jar, own, named), ...sayCrowding(jar, own, named)]
}

function sayMoves({ moves = [] }: PlacedJar, own: JarLaw, named: Named): string[] {
  const { today, zoneName, temperatureOf, curve, discardAfterDays, unit } = named
  const last = moves.at(-1)
  if (!last) return []
  const paceOf = (zoneId: string) => developmentRate(curve, temperatureOf(zoneId))
  const [from, to] = [paceOf(last.fromZoneId), paceOf(last.toZoneId)]
  const where = `Stood in ${zoneName(last.fromZoneId)} until ${writeDay(last.on, today)}, since then in ${zoneName(last.toZoneId)} (${writeTemperature(temperatureOf(last.toZoneId), unit)}).`
  if (to <= 0) return [`${where} That is below what the line needs: nothing comes while it stands there.`]
  if (!(from > 0) || Math.abs(to / from - 1) < 0.05) return [where]
  const days = own.discardAfterDays - discardAfterDays
  const lasts =
    days === 0 ? '' : ` It is kept ${Math.abs(days)} days ${days > 0 ? 'longer' : 'less'} than usual.`
  const pace =
    to < from
      ? `A day there is worth ${Math.round((100 * to) / from)} % of one before: flies come later and over more days.`
      : 'Flies come sooner there and over fewer days.'
  return [`${where} ${pace}${lasts}`]
}

function sayWarmth({ zoneId, moves = [] }: PlacedJar, { law }: JarLaw, named: Named): string[] {
  const { curve, temperatureOf, unit } = named
  const here = temperatureOf(zoneId)
  if (here > curve.harmfulAboveC)
    return [
      `At ${writeTemperature(here, unit)} it stands too warm: above ${writeTemperature(curve.harmfulAboveC, unit)} the line turns sterile or crashes. Move it to a cooler place.`,
    ]
  const rate = developmentRate(curve, here)
  if (moves.length > 0 || !(rate > 0) || rate >= 1) return []
  const onset = onsetDay(law.curve)
  const days = Math.round(onset * (1 - rate))
  if (days < FEW_DAYS) return []
  return [
    `At ${writeTemperature(here, unit)} it is slower than at ${writeTemperature(curve.referenceC, unit)}: first flies about ${days} days later, and they come over more days.`,
  ]
}

function sayCrowding(
  { starters = null }: PlacedJar,
  { crowding }: JarLaw,
  { usualStarters }: Named,
): string[] {
  if (starters === null || crowding >= USUAL_YIELD) return []
  const share = `About ${Math.round(100 * crowding)} % of the usual number is counted on.`
  return starters > usualStarters
    ? [
        `${starters} starters where about ${usualStarters} are usual: too full, the larvae starve each other. ${share}`,
      ]
    : [`${starters} starters where about ${usualStarters} are usual: few eggs are laid. ${share}`]
}
