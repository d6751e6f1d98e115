import type {
  DispatchValues,
  FeedingRung,
  FeedingValues,
  HandlingValues,
  HousingValues,
  InstarSurvival,
  Origin,
  PreyItem,
  RelativeLengths,
} from './profile'
import { byDefault } from './value'

/** Defaults that are the same, or follow one rule, for all species. None of them is a citation. */
export const RELATIVE_LENGTHS: RelativeLengths = {
  first: 0.7,
  second: 0.75,
  third: 0.85,
  middle: 1,
  beforeLast: 1.2,
  last: 1.5,
}

/** The product over seven moults is about 0.54, between the two published totals (41.8 % and 55 %). */
export const INSTAR_SURVIVAL: InstarSurvival = {
  first: 0.8,
  second: 0.88,
  third: 0.93,
  later: 0.96,
  finalMoult: 0.93,
}

/**
 * The trade's ladder by instar, laid out by body length, which is what the prey has to fit: a Deroplatys
 * hatchling is as long as a Creobroter of the fifth instar. For most species both readings agree.
 */
const NYMPH_RUNGS: FeedingRung[] = [
  { fromLengthMm: 0, portions: [{ item: 'melanogaster', min: 1, max: 2, perDays: 1 }] },
  { fromLengthMm: 5.5, portions: [{ item: 'melanogaster', min: 2, max: 4, perDays: 1 }] },
  {
    fromLengthMm: 7.5,
    portions: [
      { item: 'melanogaster', min: 4, max: 6, perDays: 1 },
      { item: 'hydei', min: 2, max: 2, perDays: 1 },
    ],
  },
  { fromLengthMm: 11, portions: [{ item: 'hydei', min: 3, max: 5, perDays: 1 }] },
  {
    fromLengthMm: 16,
    portions: [
      { item: 'hydei', min: 5, max: 8, perDays: 1 },
      { item: 'house-fly', min: 1, max: 1, perDays: 1 },
      { item: 'micro-cricket', min: 1, max: 2, perDays: 1 },
    ],
  },
  {
    fromLengthMm: 22,
    portions: [
      { item: 'house-fly', min: 1, max: 2, perDays: 1 },
      { item: 'small-cricket', min: 1, max: 1, perDays: 2 },
    ],
  },
  {
    fromLengthMm: 32,
    portions: [
      { item: 'bottle-fly', min: 1, max: 2, perDays: 2 },
      { item: 'moth', min: 1, max: 1, perDays: 2 },
      { item: 'small-cricket', min: 1, max: 2, perDays: 2 },
    ],
  },
]

const CRICKETS: PreyItem[] = ['micro-cricket', 'small-cricket', 'medium-cricket']

/** Flies and moths by default, no crickets. */
const FLY_EATERS = [
  'Hymenopus coronatus',
  'Blepharopsis mendica',
  'Gongylus gongylodes',
  'Idolomantis diabolica',
]

export function defaultFeeding(scientificName: string): FeedingValues {
  return {
    nymphRungs: byDefault(NYMPH_RUNGS, 'By body length; the trade states it by instar.'),
    adultPortions: byDefault(
      {
        small: [
          { item: 'bottle-fly', min: 1, max: 1, perDays: 1 },
          { item: 'moth', min: 1, max: 1, perDays: 2 },
          { item: 'small-cricket', min: 1, max: 2, perDays: 3 },
        ],
        large: [
          { item: 'bottle-fly', min: 5, max: 8, perDays: 3 },
          { item: 'moth', min: 2, max: 4, perDays: 3 },
          { item: 'medium-cricket', min: 2, max: 3, perDays: 3 },
          { item: 'locust-hopper', min: 1, max: 2, perDays: 3 },
          { item: 'roach-nymph', min: 1, max: 2, perDays: 3 },
        ],
      },
      'A large female eats 2–4 g of prey a week.',
    ),
    largeFromMm: byDefault(50),
    maleShare: byDefault(1 / 3),
    everyDays: byDefault({ young: 1, older: 2, adult: 3 }, 'Adults about twice a week.'),
    avoids: byDefault(FLY_EATERS.includes(scientificName) ? CRICKETS : []),
    preyLengthShare: byDefault(0.5),
  }
}

export function defaultHousing(): HousingValues {
  return {
    heightFactor: byDefault(3),
    widthFactor: byDefault(2),
    hangSpaceFactor: byDefault(2, 'Free space below the perch.'),
    finalHangSpaceFactor: byDefault(2.5, 'Before the final moult.'),
  }
}

export function defaultHandling(scientificName: string): HandlingValues {
  const isSexedEarly = scientificName === 'Deroplatys lobata'
  return {
    hardeningDays: byDefault({ nymph: 2, adult: 6 }, 'Final moult: 5–7 days.'),
    saleFromMoults: byDefault(2, 'Usual stage of sale is the 3rd to 5th instar, hatchling counted as 1st.'),
    beginnersFromMoults: byDefault(2),
    sexing: byDefault(
      isSexedEarly
        ? { probableFromMoults: 3, certainFromMoults: 3 }
        : { probableFromMoults: 3, certainFromMoults: 5 },
      'Young nymphs all show eight belly segments, so an early male is unsexed.',
    ),
  }
}

export function defaultDispatch(origin: Origin, region: string): DispatchValues {
  return {
    origin: byDefault(origin),
    region: byDefault(region),
    gate: byDefault({
      plainMinC: origin === 'temperate' ? 8 : 12,
      plainMaxC: 28,
      heatPackMinC: 5,
      insulatedMinC: 2,
      coolPackMaxC: 31,
    }),
  }
}
