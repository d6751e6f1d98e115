import { readFile } from 'node:fs/promises'
import { isPlainDate, type PlainDate } from '@/lib/domain/calendar/date'
import { env } from '@/lib/platform/env'
import { log } from '@/lib/platform/log'

/** The coldest and warmest air that is expected in an area on a day. */
export type ForecastAir = { area: string; on: PlainDate; lowC: number; highC: number }

/** Where forecasts of the air come from. Nothing is ever fetched from an address that a user typed. */
export type AirSource = { read: (areas: readonly string[]) => Promise<ForecastAir[]> }

const NO_SOURCE: AirSource = { read: async () => [] }

/** A file that somebody else keeps up to date: lines of area, day, lowest, highest (`DE 79,2026-12-01,-2,6`). */
export function fileSource(path: string): AirSource {
  return {
    read: async (areas) => {
      const wanted = new Set(areas)
      return readAirLines(await readText(path)).filter(({ area }) => wanted.has(area))
    },
  }
}

/** The source of this installation; another one is put in here. */
export function airSource(): AirSource {
  const { AIR_FORECAST_FILE } = env()
  return AIR_FORECAST_FILE ? fileSource(AIR_FORECAST_FILE) : NO_SOURCE
}

/** Lines that cannot be read are left out: a heading, a comment, a day that does not exist, degrees that cannot be. */
export function readAirLines(text: string): ForecastAir[] {
  return text.split(/\r?\n/).flatMap((line) => {
    const [area = '', on = '', low = '', high = ''] = line.split(/[,;\t]/).map((part) => part.trim())
    const [lowC, highC] = [low, high].map((part) => (part === '' ? Number.NaN : Number(part))) as [
      number,
      number,
    ]
    const isPossible = lowC >= -60 && highC <= 60 && highC >= lowC
    return area && isPlainDate(on) && isPossible ? [{ area: area.toUpperCase(), on, lowC, highC }] : []
  })
}

async function readText(path: string): Promise<string> {
  try {
    return await readFile(path, 'utf8')
  } catch (error) {
    // Orders can be looked at without a forecast: it is then said to be unknown.
    log.warn({ err: error, path }, 'the file of air forecasts cannot be read')
    return ''
  }
}
