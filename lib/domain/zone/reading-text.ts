import { isPlainDate, type PlainDate } from '../calendar/date'
import { instantOf } from '../calendar/instant'
import type { ZoneSetPoint } from './history'
import { checkReadings, type NewReading } from './reading-check'
import { readTemperature, type TemperatureUnit, unitSlip } from './temperature-unit'

/** A line that cannot be taken, by its number in the text. */
export type BadLine = { line: number; text: string; message: string }

export type ReadingText = {
  readings: NewReading[]
  bad: BadLine[]
  /** Where the figures look as if they were in the other unit: how many of them. */
  slips: number
}

export type ReadingTextGround = {
  timeZone: string
  /** What figures without a unit are in. */
  unit: TemperatureUnit
  /** Somebody was asked about the unit, and said that the figures stand. */
  isSure?: boolean
  nowMs: number
  setPoints: readonly ZoneSetPoint[]
}

export const MOST_READINGS = 10_000

// date, time with its offset perhaps, temperature with its unit perhaps, humidity perhaps
const LINE =
  /^"?(\d{1,4}[-./]\d{1,2}[-./]\d{1,4})"?(?:T|[\s,;]+)"?(\d{1,2}:\d{2})(?::\d{2}(?:\.\d+)?)?\s*(Z|[+-]\d{2}:?\d{2})?"?([\s,;]+)"?([-−]?\d+(?:[.,]\d+)?)\s*(°?\s?[CF])?"?(?:[\s,;]+"?(\d+(?:[.,]\d+)?)\s*%?"?)?[\s,;]*$/i

/**
 * Lines of "date time temperature [humidity]", with spaces, tabs, commas or semicolons between them, oldest first or
 * newest first. The first line may be a heading. Every line that cannot be right is named. O(lines).
 */
export function readReadingText(text: string, ground: ReadingTextGround): ReadingText {
  const lines = text
    .split(/\r\n|\r|\n/)
    .map((line, index) => ({ line: index + 1, text: line.trim() }))
    .filter((line) => line.text !== '')
  const body = lines[0] && !/\d/.test(lines[0].text) ? lines.slice(1) : lines
  const monthFirst = readDateOrder(body.map((line) => line.text))
  const bad: BadLine[] = []
  const found = body.flatMap((line) => {
    const read = readLine(line.text, ground, monthFirst)
    if (typeof read !== 'string') return [{ ...line, ...read }]
    bad.push({ ...line, message: read })
    return []
  })
  const first = found[0]
  const last = found.at(-1)
  const sorted = first && last && first.reading.atMs > last.reading.atMs ? found.reverse() : found
  const slips = sorted.filter(({ slips }) => slips).length
  const readings = sorted.map(({ reading }) => reading)
  for (const { index, message } of slips > 0 ? [] : checkReadings(readings, ground)) {
    const line = sorted[index]
    if (line) bad.push({ line: line.line, text: line.text, message: sentence(message) })
  }
  if (readings.length > MOST_READINGS)
    bad.push({ line: 0, text: '', message: `At most ${MOST_READINGS} readings at once.` })
  return { readings, bad: bad.sort((a, b) => a.line - b.line), slips }
}

function sentence(message: string): string {
  return /^[a-z]/.test(message) ? `The time ${message}` : message
}

type LineRead = { reading: NewReading; slips: boolean }

function readLine(text: string, ground: ReadingTextGround, monthFirst: boolean | null): LineRead | string {
  const parts = LINE.exec(text)
  if (!parts) return 'Not read: a line is date, time, temperature, and the humidity if there is one.'
  const [, date = '', time = '', offset, gap = '', figure = '', sign, humidity] = parts
  const on = readDate(date, monthFirst)
  if (typeof on !== 'string') return on.message
  const atMs = readInstant(on, { time, offset, timeZone: ground.timeZone })
  if (atMs === null) return `${time} is no time of day.`
  // "26,4" is a figure, but in a line parted by commas it is two.
  if (gap.includes(',') && figure.includes(','))
    return 'Write the decimals with a point where commas part the line.'
  const unit = sign === undefined ? ground.unit : /f/i.test(sign) ? 'fahrenheit' : 'celsius'
  const value = toNumber(figure)
  const setC = (ground.setPoints.findLast(({ from }) => from <= on) ?? ground.setPoints[0])?.dayC
  return {
    reading: {
      atMs,
      temperatureC: readTemperature(value, unit),
      humidityPct: humidity === undefined ? null : toNumber(humidity),
      // A unit that stands beside the figure leaves nothing to ask.
      ...(sign !== undefined || ground.isSure ? { isSure: true } : {}),
    },
    slips: sign === undefined && !ground.isSure && unitSlip(value, unit, setC) !== null,
  }
}

function toNumber(figure: string): number {
  return Number(figure.replace(',', '.').replace('−', '-'))
}

function readInstant(
  on: PlainDate,
  { time, offset, timeZone }: { time: string; offset: string | undefined; timeZone: string },
): number | null {
  const [hour = 0, minute = 0] = time.split(':').map(Number)
  if (hour > 23 || minute > 59) return null
  const atUtc = instantOf(on, time.padStart(5, '0'), offset === undefined ? timeZone : 'UTC')
  if (offset === undefined || /z/i.test(offset)) return atUtc
  const [, sign, hours, minutes] = /([+-])(\d{2}):?(\d{2})/.exec(offset) ?? []
  return atUtc - (sign === '-' ? -1 : 1) * (Number(hours) * 60 + Number(minutes)) * 60_000
}

/** Whether dates with slashes name the month first; null where the text does not say. */
function readDateOrder(texts: readonly string[]): boolean | null {
  for (const text of texts) {
    const [, one, other] = /^"?(\d{1,2})\/(\d{1,2})\/\d{4}/.exec(text) ?? []
    if (Number(one) > 12) return false
    if (Number(other) > 12) return true
  }
  return null
}

function readDate(date: string, monthFirst: boolean | null): PlainDate | { message: string } {
  const parts = date.split(/[-./]/)
  const [one = '', two = '', three = ''] = parts
  if (one.length === 4) return dateFrom(one, two, three)
  if (three.length !== 4) return { message: `Write the year of ${date} with four figures.` }
  if (!date.includes('/')) return dateFrom(three, two, one)
  if (monthFirst === null)
    return {
      message: `Whether ${date} names the day or the month first is not clear: write it as ${three}-12-31.`,
    }
  return monthFirst ? dateFrom(three, one, two) : dateFrom(three, two, one)
}

function dateFrom(year: string, month: string, day: string): PlainDate | { message: string } {
  const on = `${year}-${month.padStart(2, '0')}-${day.padStart(2, '0')}`
  return isPlainDate(on) ? on : { message: `${on} is no day of the calendar.` }
}
