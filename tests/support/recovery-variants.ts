import { dateOfDay } from '@/lib/domain/calendar/date'
import type { DevelopmentRecord } from '@/lib/domain/development/record'
import { LEARNED, type Variant } from './recovery-run'
import type { PlayedAnimal, PlayedMoult } from './simulated-room'

const NONE = 1e-4

/** The model with one part taken out. */
export const WITHOUT: Variant[] = [
  LEARNED,
  { name: 'without running instars', changes: () => ({ usesRunning: false }) },
  { name: 'without clutch effect', changes: () => ({ clutch: () => ({ mean: 0, sd: NONE }) }) },
  {
    name: 'without per-instar bias',
    changes: () => ({ byInstar: Array.from({ length: 12 }, () => ({ mean: 0, sd: NONE })) }),
  },
  {
    name: 'without parameter spread',
    changesParameters: (parameters) => ({
      ...parameters,
      covariance: parameters.covariance.map((row, i) =>
        row.map((cell, j) => (i === 2 && j === 2 ? cell : 0)),
      ),
    }),
  },
  {
    name: 'without learned spreads',
    changes: () => ({
      noiseRecords: Number.POSITIVE_INFINITY,
    }),
  },
  { name: 'without robustness', changes: () => ({ wrongShare: 0 }) },
  {
    name: 'without late intervals',
    changesRecord: (record) => ({
      ...record,
      starts: record.starts.map((start) => ({ ...start, earliestOn: start.latestOn })),
    }),
  },
  { name: 'without future temperature', temperatureSdC: 0 },
]

/** The spreads the rooms are played with: what no workspace could know better before its first record. */
const TRUE_SPREADS: Variant['changes'] = () => ({
  species: { mean: 0, sd: 0.155 },
  byInstar: Array.from({ length: 12 }, () => ({ mean: 0, sd: 0.08 })),
  noiseRecords: Number.POSITIVE_INFINITY,
})

/** The model told one thing that it would have to learn: where what is missing to full knowledge comes from. */
export const TOLD: Variant[] = [
  LEARNED,
  { name: 'told the threshold', knowsThreshold: true },
  {
    name: 'told the bias of the species',
    changes: ({ truth }) => ({ species: { mean: truth.speciesLog, sd: NONE } }),
  },
  {
    name: 'told the bias of each instar',
    changes: ({ truth }) => ({ byInstar: truth.byInstar.map((mean) => ({ mean, sd: NONE })) }),
  },
  {
    name: 'told the growth of each clutch',
    changes: ({ truth }) => ({ clutch: (id) => ({ mean: truth.clutchLog[id] ?? 0, sd: NONE }) }),
  },
  { name: 'told which dates are wrong', changesRecord: (record, animal) => told(record, animal, isWrong) },
  { name: 'told every date to the day', changesRecord: (record, animal) => told(record, animal, () => true) },
  {
    name: 'told spreads and threshold: the most these records can give',
    knowsThreshold: true,
    changes: TRUE_SPREADS,
  },
]

function isWrong(moult: PlayedMoult): boolean {
  return moult.isWrong
}

function told(
  record: DevelopmentRecord,
  animal: PlayedAnimal,
  isTold: (moult: PlayedMoult) => boolean,
): DevelopmentRecord {
  const starts = record.starts.map((start) => {
    const moult = animal.moults.find(({ moults }) => moults === start.moults)
    if (!moult || !isTold(moult)) return start
    const on = dateOfDay(Math.floor(moult.at))
    return { ...start, earliestOn: on, latestOn: on }
  })
  return { ...record, starts }
}
