/**
 * Stages are stored as *moults since hatch* (0 = fresh hatchling). What a stage is called depends on the
 * workspace: some breeders count the hatchling as the first instar, others as the second, because they
 * count the form inside the hatching skin. The label always says which.
 */
export const INSTAR_CONVENTIONS = ['hatchling-is-first', 'hatchling-is-second'] as const
export const INSTAR_STYLES = ['ordinal', 'l-number'] as const

export type InstarConvention = (typeof INSTAR_CONVENTIONS)[number]
export type InstarStyle = (typeof INSTAR_STYLES)[number]
export type InstarNaming = { convention: InstarConvention; style: InstarStyle }

/** The number of the instar in the given convention; `moults` is a whole number ≥ 0. */
export function instarNumber(moults: number, convention: InstarConvention): number {
  return moults + (convention === 'hatchling-is-first' ? 1 : 2)
}

/** Moults since hatch from a typed instar number; null when there is no such instar. */
export function moultsOfInstar(number: number, convention: InstarConvention): number | null {
  const moults = number - (convention === 'hatchling-is-first' ? 1 : 2)
  return Number.isInteger(moults) && moults >= 0 ? moults : null
}

/** "5th instar", "L5" or "adult". */
export function instarLabel(
  moults: number,
  naming: InstarNaming,
  animal: { isAdult?: boolean } = {},
): string {
  if (animal.isAdult) return 'adult'
  const number = instarNumber(moults, naming.convention)
  return naming.style === 'l-number' ? `L${number}` : `${ordinal(number)} instar`
}

/** "5th" or "L5", where space is short. */
export function instarShortLabel(moults: number, naming: InstarNaming): string {
  const number = instarNumber(moults, naming.convention)
  return naming.style === 'l-number' ? `L${number}` : ordinal(number)
}

/** "hatchling counted as 1st" or "hatchling counted as L2". */
export function conventionNote(naming: InstarNaming): string {
  return `hatchling counted as ${instarShortLabel(0, naming)}`
}

/** English ordinal of a whole number ≥ 0. */
export function ordinal(number: number): string {
  const lastTwo = number % 100
  if (lastTwo >= 11 && lastTwo <= 13) return `${number}th`
  const endings: Readonly<Record<number, string>> = { 1: 'st', 2: 'nd', 3: 'rd' }
  return `${number}${endings[number % 10] ?? 'th'}`
}
