import type { CareProfile, MoultCount } from '../care-profile/profile'

/**
 * What is known about how this workspace's animals differ from the profile, on the logarithm of an
 * instar's length:
 *
 *   ln D = ln(median of the profile) + species + byInstar + clutch + animal + noise
 *
 * `covariance` is ordered species, clutch, animal, then byInstar 0, 1, …; it is what is *not* known. The
 * prior stands in for a workspace without records; a fit over its records replaces it.
 */
export type DevelopmentParameters = {
  species: number
  clutch: number
  animal: number
  byInstar: number[]
  covariance: number[][]
  noiseLogSd: number
  /** Numbers of moults to the adult where siblings have said something of them; those of the profile otherwise. */
  moultsToAdult?: Record<'male' | 'female', MoultCount>
}

/** Prior standard deviations (log scale); measured on simulated rooms to be worth having. */
export const PRIOR_LOG_SD = { species: 0.25, clutch: 0.12, animal: 0.08, byInstar: 0.1 } as const

/** Standard deviation of a zone's future temperature around its forecast, °C. */
export const FUTURE_TEMPERATURE_SD_C = 1.5

const SHARED_EFFECTS = 3
const INSTARS = 12
const SMALLEST_NOISE_LOG_SD = 0.03

// Asked for every animal of a species, and never changed by whoever asks.
const known = new WeakMap<CareProfile, DevelopmentParameters>()

/** The prior of a species: no bias, spreads as above, siblings together as wide as the profile says. */
export function priorParameters(profile: CareProfile): DevelopmentParameters {
  const before = known.get(profile)
  if (before) return before
  const parameters = buildPrior(profile)
  known.set(profile, parameters)
  return parameters
}

function buildPrior(profile: CareProfile): DevelopmentParameters {
  const variances = [
    PRIOR_LOG_SD.species ** 2,
    PRIOR_LOG_SD.clutch ** 2,
    PRIOR_LOG_SD.animal ** 2,
    ...Array.from({ length: INSTARS }, () => PRIOR_LOG_SD.byInstar ** 2),
  ]
  return {
    species: 0,
    clutch: 0,
    animal: 0,
    byInstar: Array.from({ length: INSTARS }, () => 0),
    covariance: variances.map((variance, row) =>
      variances.map((_, column) => (row === column ? variance : 0)),
    ),
    noiseLogSd: siblingNoiseLogSd(profile),
  }
}

/** The part of the siblings' spread that is new in every instar, given that part of it stays with an animal. */
export function siblingNoiseLogSd(profile: CareProfile): number {
  const ofSiblings = profile.growth.siblingLogSd.value
  return Math.sqrt(Math.max(SMALLEST_NOISE_LOG_SD ** 2, ofSiblings ** 2 - PRIOR_LOG_SD.animal ** 2))
}

/** Expected deviation of ln D in the instar after `moults` moults. */
export function logShift(parameters: DevelopmentParameters, moults: number): number {
  const { species, clutch, animal, byInstar } = parameters
  return species + clutch + animal + (byInstar[Math.min(moults, byInstar.length - 1)] ?? 0)
}

/** Covariance of ln D between two instars of one animal; the same instar twice gives its variance. */
export function logCovariance(parameters: DevelopmentParameters, first: number, second: number): number {
  const rows = [0, 1, 2, instarRow(parameters, first)]
  const columns = [0, 1, 2, instarRow(parameters, second)]
  let sum = first === second ? parameters.noiseLogSd ** 2 : 0
  for (const row of rows) for (const column of columns) sum += parameters.covariance[row]?.[column] ?? 0
  return sum
}

function instarRow(parameters: DevelopmentParameters, moults: number): number {
  return SHARED_EFFECTS + Math.min(moults, parameters.byInstar.length - 1)
}
