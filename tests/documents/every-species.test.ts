import { describe, expect, it } from 'vitest'
import {
  sheetClimate,
  sheetFood,
  sheetHome,
  sheetMoult,
  sheetTimeline,
  sheetWindows,
} from '@/lib/documents/care-sheet/from-forecasts'
import type { CareSheetPayload } from '@/lib/documents/care-sheet/payload'
import { renderCareSheets } from '@/lib/documents/care-sheet/render'
import { addDays } from '@/lib/domain/calendar/date'
import { DEFAULT_PROFILES, type DefaultProfile } from '@/lib/domain/care-profile/defaults'
import { sheetCalendar } from '@/lib/domain/care-sheet/calendar'
import { feedingNowAndNext } from '@/lib/domain/care-sheet/feeding'
import { housingNowAndNext } from '@/lib/domain/care-sheet/housing'
import { forecastMoultSeries, forecastNextMoult } from '@/lib/domain/development/forecast'
import { moultTimeline } from '@/lib/domain/development/timeline'
import { LANGUAGES, type Language } from '@/lib/messages/language'
import { sampleOf } from '@/tests/support/sample'
import { FORBIDDEN } from './forbidden'
import { readPdf } from './read-pdf'
import { ORDINAL, orchidNymph, TODAY } from './sheet-samples'

type Stage = { moults: number; isAdult: boolean }

/** A sheet as the service makes it: every value from the species' own profile and the forecast. */
function sheetOf(species: DefaultProfile, { moults, isAdult }: Stage, language: Language): CareSheetPayload {
  const { profile } = species
  const animal = { sex: 'female', moults, isAdult } as const
  const lastMoultOn = addDays(TODAY, -6)
  const history = [{ from: addDays(TODAY, -400), until: null, dayC: 26 }]
  const input = { profile, ...animal, instarStartedOn: lastMoultOn, history, today: TODAY }
  const starts = Array.from({ length: moults + 1 }, (_, step) => ({
    moults: step,
    on: addDays(lastMoultOn, (step - moults) * 13),
  }))
  const forecast = forecastNextMoult(input)
  const timeline = moultTimeline({ ...animal, profile, starts, forecast, naming: ORDINAL, today: TODAY })
  const feeding = feedingNowAndNext(profile, animal)
  const coming = forecastMoultSeries(input, addDays(TODAY, 56))
  return {
    ...orchidNymph({ language }),
    species: { scientificName: species.scientificName, commonName: species.commonName, kind: 'mantis' },
    animal: {
      labelCode: 'M4T 17',
      sex: 'female',
      certainty: 'certain',
      stage: { moults, isAdult, naming: ORDINAL },
      lastMoultOn,
    },
    timeline: sheetTimeline(timeline, isAdult),
    moult: sheetMoult(timeline),
    calendar: sheetCalendar({ today: TODAY, moults: coming, everyDays: feeding.now.everyDays }),
    moultsToCome: sheetWindows(coming),
    food: sheetFood(feeding),
    home: sheetHome(housingNowAndNext(profile, animal)),
    climate: sheetClimate(profile, 'female'),
  }
}

describe('the sheet of every species with a profile', () => {
  const stages: Stage[] = [
    { moults: 0, isAdult: false },
    { moults: 4, isAdult: false },
    { moults: 7, isAdult: true },
  ]

  // Each language takes every species, the stages in turn, so that five languages meet them all; a short run takes a
  // third of them for each language.
  it.each(LANGUAGES.map((language, shift) => [language, shift] as const))(
    'fits one page and keeps the promises in %s',
    async (language, shift) => {
      const all = DEFAULT_PROFILES.map((species, index) => ({
        species,
        stage: stages[(index + shift) % stages.length]!,
      }))
      const chosen = sampleOf(`species in ${language}`, all, Math.ceil(all.length / 3))
      const payloads = chosen.map(({ species, stage }) => sheetOf(species, stage, language))
      const { pages } = await readPdf(renderCareSheets(payloads))
      expect(pages.length).toBe(chosen.length)
      for (const [index, page] of pages.entries()) {
        const name = chosen[index]?.species.scientificName
        expect(page.text, name).not.toMatch(/undefined|null|NaN|Infinity|□/)
        expect(
          FORBIDDEN[language].filter((pattern) => pattern.test(page.text)),
          name,
        ).toEqual([])
      }
    },
  )

  it('offers no crickets to those that are fed on flies and moths', async () => {
    const flyEater = DEFAULT_PROFILES.find((species) => species.scientificName === 'Hymenopus coronatus')
    const payload = sheetOf(flyEater!, { moults: 7, isAdult: true }, 'en')
    const { text } = await readPdf(renderCareSheets([payload]))
    expect(text).toMatch(/Now: .*bottle flies/)
    expect(text).not.toMatch(/Now: [^.]*cricket/)
  })
})
