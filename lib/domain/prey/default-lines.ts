import { byDefault, published } from '../care-profile/value'
import type { BoughtSupply, CultureSupply, CurveValues, PreyLine, PupaeSupply } from './line'

/** Prey lines as the trade keeps them. Costs are placeholders in minor units until a room enters its own. */
const BUCKLEY = 'Buckley et al. 2017 Integr. Comp. Biol. 57:988'

const WEEKDAYS = [1, 2, 3, 4, 5] as const

/** Of 29 cultures in one series 5 failed; in steady rooms about one in twenty. */
const CRASHES = { crashChance: 0.05, crashShare: 0.1 }

/** Gives the trade's shares per day at 24.5 °C to within 0.0007. */
const MELANOGASTER_CURVE: CurveValues = {
  layingShape: 1.96,
  layingScaleDays: 5.1,
  developmentDays: 10.2,
  developmentLogSd: 0.1,
  referenceC: 24.5,
  thresholdC: 9.8,
  harmfulAboveC: 28,
}

/** Within 0.0005 of the trade's shares over their thirty days. */
const HYDEI_CURVE: CurveValues = {
  ...MELANOGASTER_CURVE,
  layingShape: 2.73,
  layingScaleDays: 4.59,
  developmentDays: 17.06,
}

const HOUSE_FLY_CURVE: CurveValues = {
  layingShape: 2,
  layingScaleDays: 2,
  developmentDays: 13,
  developmentLogSd: 0.1,
  referenceC: 25,
  thresholdC: 12,
  harmfulAboveC: 35,
}

type CultureFigures = {
  mean: number
  curve: CurveValues
  starters: number
  costs: [start: number, starters: number]
  death: number
  discard: number
}

function cultureSupply(figures: CultureFigures): { kind: 'culture' } & CultureSupply {
  return {
    kind: 'culture',
    yield: byDefault(
      { mean: figures.mean, cv: 0.35, ...CRASHES },
      'Cultures of steady rooms differ by 27–29 %, of uneven ones by 65–78 %.',
    ),
    curve: byDefault(figures.curve, 'Development after the temperature sum; laying fitted to trade shares.'),
    starters: byDefault(figures.starters),
    startCostMinor: byDefault(figures.costs[0]),
    starterCostMinor: byDefault(figures.costs[1]),
    minutesPerStart: byDefault(4),
    dailyDeathRate: byDefault(figures.death, 'In a feeding cup; far longer on medium.'),
    discardAfterDays: byDefault(figures.discard, 'Mites show at three to four weeks.'),
    minimumBatches: byDefault(2),
  }
}

type OrderFigures = { pack: number; cost: number; lead: number }

function orders({ pack, cost, lead }: OrderFigures) {
  return {
    packSize: byDefault(pack),
    packCostMinor: byDefault(cost),
    orderWeekdays: byDefault<readonly number[]>(WEEKDAYS),
    leadDays: byDefault(lead),
  }
}

function pupaeSupply(
  figures: OrderFigures & { emerge: [number, number]; fridge: [number, number]; threshold: number },
): { kind: 'pupae' } & PupaeSupply {
  return {
    kind: 'pupae',
    ...orders(figures),
    emergence: byDefault({
      minDays: figures.emerge[0],
      maxDays: figures.emerge[1],
      referenceC: 24,
      thresholdC: figures.threshold,
    }),
    emergingShare: byDefault(0.85),
    fridgeDays: byDefault({ min: figures.fridge[0], max: figures.fridge[1] }, 'Pupae at 4–6 °C.'),
    dailyDeathRate: byDefault(0.08),
  }
}

function boughtSupply(
  figures: OrderFigures & { keep: number; death: number },
): { kind: 'bought' } & BoughtSupply {
  return {
    kind: 'bought',
    ...orders(figures),
    keepDays: byDefault(figures.keep, 'Then they have outgrown their size or died.'),
    dailyDeathRate: byDefault(figures.death),
  }
}

type LineFigures = Pick<PreyLine, 'id' | 'name' | 'supply'> & {
  length: [number, number]
  standsFor: PreyLine['standsFor']['value']
  takenBy: [number, number | null]
}

function line({ id, name, supply, length, standsFor, takenBy }: LineFigures): PreyLine {
  return {
    id,
    name,
    lengthMm: byDefault({ min: length[0], max: length[1] }),
    standsFor: byDefault(standsFor, 'One item of this line counts as so many of the other.'),
    takenByLengthMm: byDefault({ min: takenBy[0], max: takenBy[1] }),
    supply,
  }
}

const FLIES: PreyLine[] = [
  line({
    id: 'melanogaster',
    name: 'Fruit fly, melanogaster',
    length: [2, 2.5],
    standsFor: [
      { item: 'melanogaster', counts: 1 },
      { item: 'hydei', counts: 0.4 },
    ],
    takenBy: [0, 18],
    supply: cultureSupply({
      mean: 700,
      curve: MELANOGASTER_CURVE,
      starters: 45,
      costs: [120, 400],
      death: 0.1,
      discard: 35,
    }),
  }),
  line({
    id: 'hydei',
    name: 'Fruit fly, hydei',
    length: [3, 3.5],
    standsFor: [
      { item: 'hydei', counts: 1 },
      { item: 'melanogaster', counts: 2.5 },
    ],
    takenBy: [6.5, 30],
    supply: cultureSupply({
      mean: 350,
      curve: HYDEI_CURVE,
      starters: 45,
      costs: [120, 450],
      death: 0.08,
      discard: 45,
    }),
  }),
  withSource(
    line({
      id: 'house-fly-culture',
      name: 'House fly, own culture',
      length: [6, 8],
      standsFor: [
        { item: 'house-fly', counts: 1 },
        { item: 'hydei', counts: 4 },
      ],
      takenBy: [16, 45],
      supply: cultureSupply({
        mean: 400,
        curve: HOUSE_FLY_CURVE,
        starters: 60,
        costs: [250, 400],
        death: 0.1,
        discard: 35,
      }),
    }),
  ),
  line({
    id: 'house-fly',
    name: 'House fly pupae',
    length: [6, 8],
    standsFor: [
      { item: 'house-fly', counts: 1 },
      { item: 'hydei', counts: 4 },
    ],
    takenBy: [16, 45],
    supply: pupaeSupply({ pack: 250, cost: 450, lead: 3, emerge: [3, 6], fridge: [7, 14], threshold: 12 }),
  }),
  line({
    id: 'green-bottle',
    name: 'Green bottle pupae',
    length: [8, 10],
    standsFor: [
      { item: 'bottle-fly', counts: 0.8 },
      { item: 'house-fly', counts: 1.3 },
    ],
    takenBy: [20, null],
    supply: pupaeSupply({ pack: 200, cost: 450, lead: 3, emerge: [2, 7], fridge: [14, 28], threshold: 11 }),
  }),
  line({
    id: 'blue-bottle',
    name: 'Blue bottle pupae',
    length: [10, 14],
    standsFor: [
      { item: 'bottle-fly', counts: 1 },
      { item: 'house-fly', counts: 1.6 },
    ],
    takenBy: [26, null],
    supply: pupaeSupply({ pack: 200, cost: 450, lead: 3, emerge: [2, 7], fridge: [14, 28], threshold: 9 }),
  }),
]

/** House flies develop after a published temperature sum: threshold 12 °C, 77 degree-days. */
function withSource(own: PreyLine): PreyLine {
  if (own.supply.kind !== 'culture') return own
  return { ...own, supply: { ...own.supply, curve: published(HOUSE_FLY_CURVE, BUCKLEY) } }
}

type SizedFigures = [
  id: string,
  name: string,
  lengthMm: [number, number],
  standsFor: PreyLine['standsFor']['value'],
  takenBy: [number, number | null],
  order: OrderFigures & { keep: number; death: number },
]

const SIZED: SizedFigures[] = [
  [
    'cricket-1-week',
    'Crickets 3–4 mm',
    [3, 4],
    [
      { item: 'micro-cricket', counts: 0.6 },
      { item: 'hydei', counts: 1.2 },
    ],
    [9, 22],
    { pack: 500, cost: 350, lead: 3, keep: 6, death: 0.05 },
  ],
  [
    'cricket-2-weeks',
    'Crickets 5–7 mm',
    [5, 7],
    [
      { item: 'micro-cricket', counts: 1 },
      { item: 'small-cricket', counts: 0.5 },
    ],
    [14, 32],
    { pack: 300, cost: 350, lead: 3, keep: 7, death: 0.04 },
  ],
  [
    'cricket-3-weeks',
    'Crickets 8–12 mm',
    [8, 12],
    [
      { item: 'small-cricket', counts: 1 },
      { item: 'medium-cricket', counts: 0.5 },
    ],
    [20, 50],
    { pack: 150, cost: 350, lead: 3, keep: 8, death: 0.03 },
  ],
  [
    'cricket-4-weeks',
    'Crickets 13–16 mm',
    [13, 16],
    [
      { item: 'medium-cricket', counts: 1 },
      { item: 'small-cricket', counts: 2 },
    ],
    [32, null],
    { pack: 100, cost: 350, lead: 3, keep: 8, death: 0.03 },
  ],
  [
    'cricket-adult',
    'Crickets, adult',
    [18, 25],
    [{ item: 'medium-cricket', counts: 1.6 }],
    [50, null],
    { pack: 50, cost: 350, lead: 3, keep: 10, death: 0.03 },
  ],
  [
    'locust-2',
    'Locust hoppers, 2nd stage',
    [10, 15],
    [
      { item: 'locust-hopper', counts: 0.4 },
      { item: 'small-cricket', counts: 1.2 },
    ],
    [26, null],
    { pack: 50, cost: 450, lead: 3, keep: 5, death: 0.02 },
  ],
  [
    'locust-3',
    'Locust hoppers, 3rd stage',
    [15, 22],
    [
      { item: 'locust-hopper', counts: 1 },
      { item: 'medium-cricket', counts: 1.3 },
    ],
    [40, null],
    { pack: 30, cost: 450, lead: 3, keep: 5, death: 0.02 },
  ],
  [
    'locust-4',
    'Locust hoppers, 4th stage',
    [22, 32],
    [{ item: 'locust-hopper', counts: 1.8 }],
    [60, null],
    { pack: 20, cost: 450, lead: 3, keep: 6, death: 0.02 },
  ],
  [
    'roach-small',
    'Roach nymphs 8–12 mm',
    [8, 12],
    [
      { item: 'roach-nymph', counts: 0.5 },
      { item: 'small-cricket', counts: 1 },
    ],
    [22, null],
    { pack: 100, cost: 500, lead: 3, keep: 21, death: 0.005 },
  ],
  [
    'roach-medium',
    'Roach nymphs 13–20 mm',
    [13, 20],
    [
      { item: 'roach-nymph', counts: 1 },
      { item: 'medium-cricket', counts: 1 },
    ],
    [45, null],
    { pack: 50, cost: 500, lead: 3, keep: 28, death: 0.005 },
  ],
  [
    'waxworm',
    'Waxworms, kept for their moths',
    [15, 25],
    [{ item: 'moth', counts: 0.9 }],
    [28, null],
    { pack: 100, cost: 450, lead: 3, keep: 21, death: 0.01 },
  ],
  [
    'wax-moth',
    'Wax moths',
    [12, 18],
    [
      { item: 'moth', counts: 1 },
      { item: 'bottle-fly', counts: 1.5 },
    ],
    [26, null],
    { pack: 50, cost: 600, lead: 3, keep: 7, death: 0.1 },
  ],
  [
    'springtails',
    'Springtails',
    [1, 2],
    [{ item: 'melanogaster', counts: 0.3 }],
    [0, 7],
    { pack: 1000, cost: 400, lead: 3, keep: 42, death: 0 },
  ],
]

export const DEFAULT_PREY_LINES: readonly PreyLine[] = [
  ...FLIES,
  ...SIZED.map(([id, name, length, standsFor, takenBy, order]) =>
    line({ id, name, length, standsFor, takenBy, supply: boughtSupply(order) }),
  ),
]

export function findPreyLine(id: string, lines: readonly PreyLine[] = DEFAULT_PREY_LINES): PreyLine | null {
  return lines.find((each) => each.id === id) ?? null
}
