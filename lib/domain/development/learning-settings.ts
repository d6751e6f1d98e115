import { PRIOR_LOG_SD } from './parameters'

/**
 * What a fit believes before it has seen a record. The switches turn one part of the model off and exist
 * for the benchmark that shows what each part is worth.
 */
export type LearningSettings = {
  /** Prior means and standard deviations on the log scale. */
  species: Prior
  byInstar: Prior[]
  clutch: (clutchId: string) => Prior
  animalLogSd: number
  noiseLogSd: number
  /** Records that the prior noise is worth; Infinity keeps it and all other spreads as they are. */
  noiseRecords: number
  /** Clutches, animals and instars that the prior spread of each kind is worth; Infinity keeps it. */
  spreadRecords: { clutch: number; animal: number; byInstar: number }
  wrongShare: number
  usesRunning: boolean
}

export type Prior = { mean: number; sd: number }

/** Share of mis-keyed dates that is reckoned with. */
export const WRONG_SHARE = 0.03

/** Number of instars with a length of their own; later ones share the last. */
export const LEARNED_INSTARS = 12

const NOISE_RECORDS = 60
const SPREAD_RECORDS = { clutch: 10, animal: 80, byInstar: 20 }

export function priorSettings(noiseLogSd: number): LearningSettings {
  return {
    species: { mean: 0, sd: PRIOR_LOG_SD.species },
    byInstar: Array.from({ length: LEARNED_INSTARS }, () => ({ mean: 0, sd: PRIOR_LOG_SD.byInstar })),
    clutch: () => ({ mean: 0, sd: PRIOR_LOG_SD.clutch }),
    animalLogSd: PRIOR_LOG_SD.animal,
    noiseLogSd,
    noiseRecords: NOISE_RECORDS,
    spreadRecords: SPREAD_RECORDS,
    wrongShare: WRONG_SHARE,
    usesRunning: true,
  }
}
