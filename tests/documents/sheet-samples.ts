import type {
  CareSheetPayload,
  LotAnimal,
  SheetCalendarDay,
  SheetStep,
} from '@/lib/documents/care-sheet/payload'
import { addDays, type PlainDate } from '@/lib/domain/calendar/date'
import type { InstarNaming } from '@/lib/domain/instar/label'

export const TODAY: PlainDate = '2026-11-24'
export const ORDINAL: InstarNaming = { convention: 'hatchling-is-first', style: 'ordinal' }

/** A nymph of the fifth instar, sex probable, a window next week: the everyday sheet. */
export function orchidNymph(change: Partial<CareSheetPayload> = {}): CareSheetPayload {
  return {
    language: 'en',
    paper: 'a4',
    units: { temperature: 'celsius', length: 'millimetre' },
    printedOn: TODAY,
    handedOverOn: TODAY,
    seller: {
      name: 'The Glass Fern',
      contact: 'help@glassfern.example · +44 20 7946 0000',
      claimTerms: 'Please tell us within 24 hours of arrival.',
    },
    species: { scientificName: 'Hymenopus coronatus', commonName: 'Orchid mantis', kind: 'mantis' },
    animal: {
      labelCode: 'M4T 17',
      sex: 'female',
      certainty: 'probable',
      stage: { moults: 4, isAdult: false, naming: ORDINAL },
      bodyLengthMm: 26,
      hatchedOn: '2026-09-02',
      lastMoultOn: '2026-11-03',
      lastFed: { on: '2026-11-23', prey: 'house-fly' },
    },
    timeline: { steps: stepsUntil(TODAY, [13, 14, 16, 19], 21) },
    moult: {
      fromOn: '2026-11-28',
      likelyOn: '2026-12-02',
      toOn: '2026-12-08',
      leaveAloneUntilOn: '2026-12-10',
      nextLengthMm: 37,
    },
    calendar: calendarWith(
      [
        [4, 14],
        [28, 45],
      ],
      2,
    ),
    food: {
      now: [
        { item: 'house-fly', min: 1, max: 2, perDays: 1 },
        { item: 'moth', min: 1, max: 1, perDays: 2 },
      ],
      next: [{ item: 'bottle-fly', min: 1, max: 2, perDays: 2 }],
      longestPreyMm: 13,
      soldHere: ['house-fly', 'bottle-fly'],
    },
    home: { now: { heightMm: 78, widthMm: 52 }, next: { heightMm: 111, widthMm: 74 }, hangSpaceMm: 52 },
    climate: {
      dayC: { min: 25, max: 30 },
      lowestNightC: 20,
      humidityPct: { min: 60, max: 80 },
      mistingEveryDays: 1,
      adultLifeWeeks: { min: 16, max: 34 },
    },
    publicPageUrl: 'https://glassfern.example/p/9sKqPz0c3mUXa1bVd5eRfTgYhUjIkOlp',
    profileVersion: 3,
    ...change,
  }
}

/** Steps that end with the running one on `today`; lengths grow as they do in life. */
export function stepsUntil(today: PlainDate, lengthsDays: number[], runningDays: number): SheetStep[] {
  const steps: SheetStep[] = []
  let to: PlainDate | null = null
  const all = [...lengthsDays, runningDays]
  let from = addDays(today, -all.reduce((sum, days) => sum + days, 0))
  for (const [moults, days] of all.entries()) {
    to = moults === all.length - 1 ? null : addDays(from, days)
    steps.push({ moults, isAdult: false, from, to, lengthMm: 5.5 * 1.47 ** moults })
    from = addDays(from, days)
  }
  return steps
}

/** Eight weeks; windows as [first day, last day] counted from today, feeding outside them every so many days. */
export function calendarWith(windows: [number, number][], feedEveryDays: number): SheetCalendarDay[] {
  return Array.from({ length: 56 }, (_, day) => {
    const isInside = windows.some(([from, to]) => day >= from && day <= to)
    const kind = isInside ? 'moult' : day % feedEveryDays === 0 ? 'feed' : 'none'
    return { on: addDays(TODAY, day), kind }
  })
}

/** Still soft two days after its last moult: no window, no timeline to come, old age to think of. */
export function adultFemale(change: Partial<CareSheetPayload> = {}): CareSheetPayload {
  const nymph = orchidNymph()
  const steps = stepsUntil(TODAY, [13, 14, 16, 19, 22, 29, 41], 2)
  return {
    ...nymph,
    animal: {
      ...nymph.animal,
      certainty: 'certain',
      stage: { moults: 7, isAdult: true, naming: ORDINAL },
      bodyLengthMm: 60,
      lastMoultOn: addDays(TODAY, -2),
      mated: 'no',
      injuries: 'left hind leg shorter since the last moult',
    },
    timeline: { steps: steps.map((step) => ({ ...step, isAdult: step.to === null })) },
    moult: { softUntilOn: addDays(TODAY, 4) },
    calendar: calendarWith([], 3).map((day) => (day.on < addDays(TODAY, 4) ? { ...day, kind: 'none' } : day)),
    food: { now: [{ item: 'bottle-fly', min: 5, max: 8, perDays: 3 }], longestPreyMm: 30 },
    home: { now: { heightMm: 180, widthMm: 120 }, hangSpaceMm: 120 },
    ...change,
  }
}

export function hatchling(change: Partial<CareSheetPayload> = {}): CareSheetPayload {
  const nymph = orchidNymph()
  return {
    ...nymph,
    animal: {
      labelCode: 'P9R 44',
      sex: 'unsexed',
      certainty: 'none',
      stage: { moults: 0, isAdult: false, naming: ORDINAL },
      bodyLengthMm: 5.5,
      hatchedOn: addDays(TODAY, -5),
    },
    timeline: { steps: stepsUntil(TODAY, [], 5) },
    moult: { ...nymph.moult, nextLengthMm: 8 },
    food: { now: [{ item: 'melanogaster', min: 1, max: 2, perDays: 1 }], longestPreyMm: 2.75 },
    ...change,
  }
}

/** Everything a person can type, as long as it can get. */
export function longWords(change: Partial<CareSheetPayload> = {}): CareSheetPayload {
  const adult = adultFemale()
  const long = (word: string) => `${word} `.repeat(60).slice(0, 300)
  return {
    ...adult,
    seller: {
      name: long('Insektenhandlung'),
      contact: long('telephone'),
      claimTerms: long('Reklamationsfrist'),
    },
    species: {
      scientificName: long('Pseudocreobotra'),
      commonName: long('Stachelblütenmantis'),
      kind: 'mantis',
      legalNote: 'proof-of-origin',
    },
    animal: {
      ...adult.animal,
      labelCode: 'WWWW WWWW',
      lastFed: { on: TODAY, prey: long('Wachsmotten') },
      injuries: long('Fangbein'),
      note: long('Häutungsschwierigkeiten'),
    },
    moult: orchidNymph().moult,
    calendar: calendarWith(
      [
        [4, 14],
        [28, 50],
      ],
      1,
    ),
    ...change,
  }
}

/** A bought animal about which next to nothing is known. */
export function bareRecord(change: Partial<CareSheetPayload> = {}): CareSheetPayload {
  return {
    language: 'en',
    paper: 'a4',
    units: { temperature: 'celsius', length: 'millimetre' },
    printedOn: TODAY,
    seller: { name: 'The Glass Fern' },
    species: { scientificName: 'Creobroter sp.', kind: 'mantis' },
    animal: { labelCode: 'T2X 83', sex: 'unsexed', certainty: 'none' },
    ...change,
  }
}

export function otherInvertebrate(change: Partial<CareSheetPayload> = {}): CareSheetPayload {
  return {
    ...bareRecord(),
    species: { scientificName: 'Porcellio laevis', commonName: 'Dairy woodlouse', kind: 'other' },
    climate: { dayC: { min: 18, max: 26 }, humidityPct: { min: 60, max: 80 } },
    ...change,
  }
}

/** Ten hatchlings' brothers and sisters a month on, told apart by their labels, in two instars. */
export function lotOfTen(change: Partial<CareSheetPayload> = {}): CareSheetPayload {
  const nymph = orchidNymph()
  const lot: LotAnimal[] = Array.from({ length: 10 }, (_, index) => ({
    labelCode: `K7Q ${10 + index}`,
    sex: index === 0 ? 'male' : index < 3 ? 'female' : 'unsexed',
    certainty: index < 3 ? 'probable' : 'none',
    stage: { moults: index < 4 ? 3 : 2, isAdult: false, naming: ORDINAL },
  }))
  return {
    ...nymph,
    animal: {
      labelCode: 'K7Q 14',
      sex: 'unsexed',
      certainty: 'none',
      stage: { moults: 2, isAdult: false, naming: ORDINAL },
      bodyLengthMm: 12,
      hatchedOn: '2026-10-12',
    },
    lot,
    timeline: null,
    food: { now: [{ item: 'hydei', min: 3, max: 5, perDays: 1 }], longestPreyMm: 6 },
    ...change,
  }
}

export function adultPair(change: Partial<CareSheetPayload> = {}): CareSheetPayload {
  const adult = adultFemale()
  const stage = { moults: 7, isAdult: true, naming: ORDINAL }
  const male: LotAnimal = {
    labelCode: 'B3N 20',
    sex: 'male',
    certainty: 'certain',
    stage: { ...stage, moults: 5 },
  }
  return {
    ...adult,
    animal: { ...adult.animal, labelCode: 'B3N 20', sex: 'male', mated: null, injuries: null },
    lot: [male, { labelCode: 'B3N 21', sex: 'female', certainty: 'certain', stage }],
    moult: null,
    timeline: null,
    ...change,
  }
}

export function eggCase(change: Partial<CareSheetPayload> = {}): CareSheetPayload {
  const { seller, publicPageUrl, profileVersion } = orchidNymph()
  return {
    ...bareRecord(),
    seller,
    species: { scientificName: 'Creobroter sp.', commonName: 'Flower mantis', kind: 'mantis' },
    animal: { labelCode: 'E 104', sex: 'unsexed', certainty: 'none' },
    eggCase: {
      laid: { fromOn: '2026-11-10', toOn: '2026-11-10' },
      hatch: { fromOn: '2026-12-12', toOn: '2026-12-27' },
      nymphs: { min: 10, max: 60 },
      incubationC: { min: 25, max: 29 },
    },
    calendar: calendarWith([[18, 33]], 100).map((day) =>
      day.kind === 'feed' ? { ...day, kind: 'none' } : day,
    ),
    food: { now: [{ item: 'melanogaster', min: 1, max: 2, perDays: 1 }], soldHere: ['melanogaster'] },
    climate: { humidityPct: { min: 60, max: 70 }, mistingEveryDays: 2 },
    publicPageUrl,
    profileVersion,
    ...change,
  }
}

/** Forty lines that somebody wanted the buyer to know. */
export function longNote(change: Partial<CareSheetPayload> = {}): CareSheetPayload {
  const lines = Array.from({ length: 40 }, (_, line) => `Line ${line + 1}: it took a moth from the tweezers.`)
  return orchidNymph({ animal: { ...orchidNymph().animal, note: lines.join('\n') }, ...change })
}

/** Names as they are written in other alphabets. */
export function otherScripts(change: Partial<CareSheetPayload> = {}): CareSheetPayload {
  const nymph = orchidNymph()
  return {
    ...nymph,
    seller: { name: 'Богомолы «Ясень»', contact: 'ясень@пример.example · Νίκος Παπαδόπουλος' },
    species: { scientificName: 'Hymenopus coronatus', commonName: 'Орхидейный богомол', kind: 'mantis' },
    animal: { ...nymph.animal, note: 'Για τη Μαρία · для Анны · עבור נעמי · من أجل ليلى · 花螳螂' },
    ...change,
  }
}

/** What somebody might type to break a document: code, markup, other scripts, signs that turn text around. */
export const HOSTILE = {
  name: '#eval("1+1") *bold* _it_ $x$ <label> @ref ]}) #import "x" \\u{41} // /* `raw`',
  script: 'عربي שלום Ελλ Кир 漢字 🦗 👩‍👩‍👧 Z̴̡̛̳̗̫̗a̷lgo\u202Eesrever\u0000\u0007\uD800',
}

export function hostile(change: Partial<CareSheetPayload> = {}): CareSheetPayload {
  const nymph = orchidNymph()
  return {
    ...nymph,
    seller: { name: HOSTILE.name, contact: HOSTILE.script, claimTerms: HOSTILE.name },
    species: { scientificName: HOSTILE.script, commonName: HOSTILE.name, kind: 'mantis' },
    animal: {
      ...nymph.animal,
      lastFed: { on: TODAY, prey: HOSTILE.name },
      injuries: HOSTILE.script,
      note: '"; #read("/etc/passwd") {{sheet}} %s \u0000',
    },
    ...change,
  }
}
