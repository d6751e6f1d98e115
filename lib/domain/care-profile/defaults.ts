import { GROWTH_ROWS, type GrowthRow } from './growth-table'
import { KEEPING_ROWS, type KeepingRow } from './keeping-table'
import type {
  BreedingValues,
  CareProfile,
  ColdRestValue,
  GrowthValues,
  HatchValues,
  KeepingValues,
  MoultCount,
  SeparationValues,
} from './profile'
import {
  defaultDispatch,
  defaultFeeding,
  defaultHandling,
  defaultHousing,
  INSTAR_SURVIVAL,
  RELATIVE_LENGTHS,
} from './shared-defaults'
import { byDefault, published, type Sourced } from './value'

/** The care profiles a new workspace starts with: the trade's two tables and the rules around them. */
export type DefaultProfile = {
  slug: string
  scientificName: string
  commonName: string
  kind: 'mantis'
  profile: CareProfile
}

const MAXWELL_2014 = 'Maxwell 2014, J. Orthoptera Res. 23:104'
const FEA_2014 = 'Fea, Stanley & Holwell 2014, J. Ethol. 32:43'
const USUAL_REFERENCE_C = 26

/** `creobroter-spp` from `Creobroter spp.` */
export function speciesSlug(scientificName: string): string {
  return scientificName
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '')
}

function moultCount(cell: number | [number, number]): Sourced<MoultCount> {
  if (typeof cell === 'number') return byDefault({ typical: cell, oneFewerShare: 0.1, oneMoreShare: 0.1 })
  return byDefault({ typical: cell[0], oneFewerShare: 0.05, oneMoreShare: 0.45 })
}

function moultsToAdult(row: GrowthRow): GrowthValues['moultsToAdult'] {
  if (row.scientificName === 'Stagmomantis spp.') {
    const note = 'Counted in S. limbata: females 64 % six and 36 % seven, males 91 % six and 9 % five.'
    return {
      male: published({ typical: 6, oneFewerShare: 0.09, oneMoreShare: 0 }, MAXWELL_2014, note),
      female: published({ typical: 7, oneFewerShare: 0.64, oneMoreShare: 0 }, MAXWELL_2014, note),
    }
  }
  return { male: moultCount(row.moults[0]), female: moultCount(row.moults[1]) }
}

/** The table holds at about 26 °C, or at the near end of the range of a species that is kept warmer. */
function referenceTemperatureC(keeping: KeepingRow): Sourced<number> {
  const [lowest, highest] = keeping.dayC
  const referenceC = Math.min(highest, Math.max(lowest, USUAL_REFERENCE_C))
  return referenceC === USUAL_REFERENCE_C
    ? byDefault(referenceC)
    : byDefault(referenceC, 'Kept warmer than 26 °C throughout: the lower end of its range.')
}

function growth(row: GrowthRow, keeping: KeepingRow): GrowthValues {
  return {
    moultsToAdult: moultsToAdult(row),
    daysToAdult: { male: byDefault(row.toAdult[0]), female: byDefault(row.toAdult[1]) },
    relativeLengths: byDefault(RELATIVE_LENGTHS),
    siblingLogSd: byDefault(
      0.15,
      '9 % was measured for the first instar of T. attenuata (Ursani et al. 2017), 12–18 % is usual.',
    ),
    survival: byDefault(INSTAR_SURVIVAL),
    lowerThresholdC: byDefault(
      12,
      'Published for no mantis; nearest relatives 11.2–13.4 °C (Buckley et al. 2017).',
    ),
    lowerThresholdSdC: byDefault(2),
    referenceC: referenceTemperatureC(keeping),
    upperThresholdC: byDefault(34, 'Growth slows from 33–35 °C.'),
  }
}

function breeding(row: GrowthRow): BreedingValues {
  const [fewest, most, intervalDays] = row.eggCases
  return {
    readyAfterDays: { male: byDefault(row.ready[0]), female: byDefault(row.ready[1]) },
    firstEggCaseDays: byDefault({ min: row.firstEggCase[0], max: row.firstEggCase[1] }),
    eggCases: byDefault({ min: fewest, max: most, intervalDays }),
    matingEndsAtLifeShare: byDefault(0.7, 'Males; females also at the second infertile egg case.'),
  }
}

function hatch(row: GrowthRow): HatchValues {
  const [min, typical, max] = row.nymphs
  const [minDays, maxDays, minC, maxC] = row.incubation
  const weeks = row.rest?.weeks ?? (row.rest ? [6, 12] : [0, 0])
  const coldRest: ColdRestValue = {
    need: row.rest?.need ?? 'none',
    minWeeks: weeks[0] ?? 0,
    maxWeeks: weeks[1] ?? 0,
    minC: 4,
    maxC: 8,
    hasCountingDaysBefore: row.rest?.countsBefore ?? true,
  }
  return {
    nymphs: byDefault({ min, typical, max }),
    incubation: byDefault({ minDays, maxDays, minC, maxC }, incubationNote(row.scientificName)),
    coldRest: byDefault(coldRest, row.rest?.note),
    fertileShare: byDefault(0.85, 'Until a workspace has hatches of its own.'),
  }
}

function incubationNote(scientificName: string): string | undefined {
  if (scientificName !== 'Sphodromantis spp.') return undefined
  return 'Differs within the genus: S. viridis 20–25 days at 25 °C (Abasa & Mathenge), S. gastrica about 70 (Greyvenstein et al. 2022).'
}

function keepingValues(row: KeepingRow): KeepingValues {
  const [hatchling, adultMale, adultFemale] = row.lengthMm
  const [driest, dampest] = row.humidityPct
  return {
    bodyLengthMm: byDefault({ hatchling, adultMale, adultFemale }),
    dayC: byDefault({ min: row.dayC[0], max: row.dayC[1] }),
    hotSpotC: byDefault(row.hotSpotC ?? null),
    lowestNightC: byDefault(row.nightC),
    humidityPct: byDefault({ min: driest, max: dampest }),
    mistingEveryDays: byDefault(driest >= 55 ? 1 : 2, 'A fine spray; drops gone within two hours.'),
    adultLifeWeeks: {
      male: byDefault({ min: row.maleWeeks[0], max: row.maleWeeks[1] }),
      female: byDefault({ min: row.femaleWeeks[0], max: row.femaleWeeks[1] }),
    },
  }
}

function tolerance(row: KeepingRow): SeparationValues['tolerance'] {
  if (row.apartAt === 'colony') return byDefault('tolerant')
  if (row.scientificName !== 'Miomantis spp.') return byDefault('usual')
  return published('fierce', FEA_2014, 'M. caffra eats siblings even when prey is there.')
}

function separation(row: KeepingRow): SeparationValues {
  return {
    apartAtMoults: byDefault(row.apartAt === 'colony' ? null : row.apartAt),
    allowsColony: byDefault(row.apartAt === 'colony', 'Where space, food and equal size allow.'),
    tolerance: tolerance(row),
    riskPerDay: byDefault([0.001, 0.005, 0.02, 0.06], 'Fed siblings of one size, 1st to 4th instar and on.'),
    toleranceFactors: byDefault({ tolerant: 0.2, usual: 1, fierce: 3 }),
    sizeGapFactor: byDefault(3, 'With a gap of one instar.'),
    hungerRiskPerDay: byDefault(0.175, 'Hunger adds 15–20 % a day.'),
  }
}

function profileOf(row: GrowthRow): DefaultProfile {
  const keeping = KEEPING_ROWS.find((candidate) => candidate.scientificName === row.scientificName)
  if (!keeping) throw new RangeError(`no keeping values for ${row.scientificName}`)
  return {
    slug: speciesSlug(row.scientificName),
    scientificName: row.scientificName,
    commonName: row.commonName,
    kind: 'mantis',
    profile: {
      growth: growth(row, keeping),
      breeding: breeding(row),
      hatch: hatch(row),
      keeping: keepingValues(keeping),
      separation: separation(keeping),
      housing: defaultHousing(),
      handling: defaultHandling(row.scientificName),
      feeding: defaultFeeding(row.scientificName),
      dispatch: defaultDispatch(keeping.origin, keeping.region),
    },
  }
}

export const DEFAULT_PROFILES: readonly DefaultProfile[] = GROWTH_ROWS.map(profileOf)
