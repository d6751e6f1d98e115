import demoSignIn from './demo-sign-in.json'

/**
 * The demo's story, made up for it: a breeder and a shop that buys from the breeder. Days count from the anchor day,
 * negative in the past. Every figure here is invented; the growth of each animal is drawn from the care profiles.
 */
export const DEMO_PASSWORD = demoSignIn.password

export const DEMO_PEOPLE = {
  mara: { name: 'Mara Lindqvist', email: 'mara@larch-lane.example' },
  jonas: { name: 'Jonas Feld', email: 'jonas@larch-lane.example' },
  theo: { name: 'Theo Brandt', email: 'theo@glass-fern.example' },
  ines: { name: 'Ines Okoro', email: 'ines@glass-fern.example' },
  pim: { name: 'Pim Visser', email: 'pim@larch-lane.example' },
} as const
export type DemoPerson = keyof typeof DEMO_PEOPLE

export type ZoneStory = {
  name: string
  setPoints: { day: number; dayC: number; nightC: number }[]
  quarantine?: { untilDay: number; reason: string }
}
export type KindStory = {
  name: string
  volumeMl: number
  innerHeightMm: number
  innerWidthMm: number
  single: boolean
  stock: number
}

export const LARCH_LANE_ZONES: ZoneStory[] = [
  {
    name: 'Warm shelf',
    setPoints: [
      { day: -400, dayC: 27, nightC: 23 },
      { day: -70, dayC: 28, nightC: 24 },
    ],
  },
  { name: 'Side room', setPoints: [{ day: -400, dayC: 24, nightC: 20 }] },
]
export const GLASS_FERN_ZONES: ZoneStory[] = [
  { name: 'Shop shelf', setPoints: [{ day: -400, dayC: 25, nightC: 21 }] },
  {
    name: 'Arrivals shelf',
    setPoints: [{ day: -400, dayC: 25, nightC: 21 }],
    quarantine: { untilDay: 12, reason: 'Mites came with a delivery: wiped down, stays empty until then.' },
  },
]

export const CONTAINER_KINDS: KindStory[] = [
  { name: '120 ml cup', volumeMl: 120, innerHeightMm: 62, innerWidthMm: 58, single: true, stock: 260 },
  { name: '250 ml cup', volumeMl: 250, innerHeightMm: 90, innerWidthMm: 76, single: true, stock: 90 },
  { name: '1 litre jar', volumeMl: 1000, innerHeightMm: 165, innerWidthMm: 98, single: true, stock: 80 },
  { name: 'Net cage 20 cm', volumeMl: 6000, innerHeightMm: 300, innerWidthMm: 200, single: true, stock: 40 },
  { name: 'Rearing box', volumeMl: 12000, innerHeightMm: 300, innerWidthMm: 200, single: false, stock: 8 },
]

/** How much longer a species takes here than its profile says: what a year of records makes plain. */
export const SPECIES_PACE: Record<string, number> = {
  'hymenopus-coronatus': 1.25,
}

/** A clutch as it went: hatched, kept together for a while with losses, parted over a few evenings, some sold. */
export type ClutchStory = {
  species: string
  zone: string
  hatchDay: number
  hatched: number
  /** share of the clutch that died or vanished before it was parted */
  lostTogether: number
  /** days after the hatch on which the evenings at the bench fell, and the share of what was left that each parted */
  evenings: { afterDays: number; share: number }[]
  /** share of the parted animals that is sold once old enough */
  soldShare: number
  counted: boolean
  /** missing at the recount, without a trace: the price of parting them late */
  unaccounted?: number
}

// One line a clutch: where, the day it hatched, how many, the share lost together, the evenings at the bench as
// day:share-of-what-is-left, the share sold.
export const CLUTCHES: ClutchStory[] = [
  clutch('deroplatys-desiccata', 'Warm shelf', '-316 48 0.06 31:1 0.72'),
  clutch('hymenopus-coronatus', 'Warm shelf', '-281 64 0.09 22:0.6,24:1 0.7'),
  { ...clutch('tenodera-sinensis', 'Side room', '-232 118 0.14 24:0.4,26:0.5,29:1 0.8'), unaccounted: 7 },
  clutch('pseudocreobotra-wahlbergii', 'Warm shelf', '-196 41 0.07 19:1 0.74'),
  clutch('creobroter-spp', 'Side room', '-161 33 0.06 22:1 0.76'),
  clutch('hymenopus-coronatus', 'Warm shelf', '-118 71 0.08 21:0.5,23:1 0.6'),
  clutch('deroplatys-desiccata', 'Side room', '-92 52 0.05 34:1 0.4'),
  clutch('pseudocreobotra-wahlbergii', 'Warm shelf', '-58 38 0.08 18:1 0.3'),
  // the late one: a first evening went well, the rest still stands together
  { ...clutch('creobroter-spp', 'Warm shelf', '-31 132 0.07 19:0.6 0.16'), counted: false },
  { ...clutch('tenodera-sinensis', 'Side room', '-12 96 0.02 - 0'), counted: false },
]

function clutch(species: string, zone: string, line: string): ClutchStory {
  const [hatchDay = 0, hatched = 0, lostTogether = 0, , soldShare = 0] = line.split(' ').map(Number)
  const evenings = (line.split(' ')[3] ?? '-').split(',').filter((evening) => evening !== '-')
  return {
    species,
    zone,
    hatchDay,
    hatched,
    lostTogether,
    evenings: evenings.map((evening) => {
      const [afterDays = 0, share = 1] = evening.split(':').map(Number)
      return { afterDays, share }
    }),
    soldShare,
    counted: true,
  }
}

/** Cups of the late clutch's first evening stay together until somebody needs one of them. */
export const TRAY = { clutch: 'C-9', cups: 14 }

/** Two small hatches of a species that lives together where there is room, food and no size between them. */
export const COLONY = {
  name: 'Leaf litter box',
  species: 'phyllocrania-paradoxa',
  zone: 'Side room',
  notes: 'Hung with bark and dry oak leaves. Fed every second day, so that nobody looks for food.',
  lostTogether: 0.12,
  openedDay: -24,
  countedDay: -3,
  clutches: [
    { hatchDay: -61, hatched: 19 },
    { hatchDay: -55, hatched: 14 },
  ],
}

/** Egg cases that have not hatched: what is on the shelf today. */
export type EggCaseStory = {
  species: string
  zone: string
  laidDay?: number
  laidRange?: [number, number]
  receivedDay?: number
  supplier?: string
  rest?: { startDay: number; plannedEndDay: number }
  ended?: { day: number; end: 'infertile' | 'discarded' | 'wasps' }
  notes?: string
}

export const EGG_CASES: EggCaseStory[] = [
  { species: 'hymenopus-coronatus', zone: 'Warm shelf', laidDay: -43 },
  { species: 'pseudocreobotra-wahlbergii', zone: 'Warm shelf', laidDay: -14 },
  { species: 'creobroter-spp', zone: 'Side room', laidRange: [-26, -20] },
  {
    species: 'tenodera-sinensis',
    zone: 'Side room',
    laidDay: -40,
    rest: { startDay: -21, plannedEndDay: 42 },
    notes: 'In the wine cooler at 6 °C, second drawer.',
  },
  {
    species: 'deroplatys-desiccata',
    zone: 'Warm shelf',
    receivedDay: -9,
    supplier: 'swap with a keeper in the north',
  },
  {
    species: 'hymenopus-coronatus',
    zone: 'Warm shelf',
    laidDay: -170,
    ended: { day: -75, end: 'infertile' },
    notes: 'Frozen for three days, then binned.',
  },
]

/** Prices in minor units by how many moults an animal has behind it. */
export const PRICE_MINOR_BY_SPECIES: Record<string, number> = {
  'hymenopus-coronatus': 1800,
  'pseudocreobotra-wahlbergii': 1200,
  'creobroter-spp': 1000,
  'tenodera-sinensis': 700,
  'deroplatys-desiccata': 1500,
}
