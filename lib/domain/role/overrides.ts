import type { Role } from './permissions'

/**
 * What can speak against leaving today, and who may let an animal go all the same. The owner may always; what a keeper
 * and the counter may is set by each workspace. Where nothing was set the counter decides about buyers (a beginner, a
 * hold), and whoever looks after the animals about the animals.
 */
export const OVERRIDABLE = [
  'too-young-for-beginner',
  'reserved',
  'too-young',
  'hardening',
  'moult-expected',
  'quarantine',
] as const
export type OverridableCode = (typeof OVERRIDABLE)[number]

/** Said where it is ticked. */
export const OVERRIDE_WORDS: Record<OverridableCode, string> = {
  'too-young-for-beginner': 'too young for a beginner',
  reserved: 'held for another buyer',
  'too-young': 'too young to be sold',
  hardening: 'still soft after a moult',
  'moult-expected': 'about to moult',
  quarantine: 'in a zone under quarantine',
}

export type OverrideRules = Readonly<Record<'keeper' | 'counter', readonly OverridableCode[]>>

export const SAFE_OVERRIDES: OverrideRules = {
  keeper: OVERRIDABLE,
  counter: ['too-young-for-beginner', 'reserved'],
}

export const isOverridable = (code: string): code is OverridableCode =>
  OVERRIDABLE.some((each) => each === code)

/** Whether a role may let an animal go against it. What nobody can override (it is not here) is for nobody. */
export function mayOverride(role: Role, code: string, rules: OverrideRules): boolean {
  if (!isOverridable(code)) return false
  if (role === 'owner') return true
  return role !== 'viewer' && rules[role].includes(code)
}

type Against = { code: string; message: string }

/** What of it this role may not override, and nobody else has cleared for the day. `cleared`: codes that somebody has. */
export function listKeptBack<A extends Against>(
  blocks: readonly A[],
  { role, rules, cleared }: { role: Role; rules: OverrideRules; cleared: readonly string[] },
): A[] {
  return blocks.filter(
    ({ code }) => isOverridable(code) && !cleared.includes(code) && !mayOverride(role, code, rules),
  )
}

/** "Ask a keeper or the owner", by who may override all of it. */
export function sayWhomToAsk(codes: readonly string[], rules: OverrideRules): string {
  const mayKeeper = codes.every((code) => mayOverride('keeper', code, rules))
  return mayKeeper ? 'Ask a keeper or the owner' : 'Ask the owner'
}

/** Said of lots and egg cases, which keepers do not sell. */
export const ONLY_THE_OWNER = 'Only the owner may sell it.'

export type KeptBack = {
  /** what this role may not override and nobody has cleared */
  codes: OverridableCode[]
  /** "Ask a keeper or the owner"; null where this role may let it leave */
  whom: string | null
  /** what nobody has cleared and this role may */
  open: OverridableCode[]
}

/** What of it stands in the way of this role, before anything is tapped. */
export function sayKeptBack(
  blocks: readonly Against[],
  known: { role: Role; rules: OverrideRules; cleared: readonly string[] },
): KeptBack {
  const { role, rules, cleared } = known
  const codes = listKeptBack(blocks, known)
    .map(({ code }) => code)
    .filter(isOverridable)
  const open = blocks
    .map(({ code }) => code)
    .filter(isOverridable)
    .filter((code) => !cleared.includes(code) && mayOverride(role, code, rules))
  return { codes, whom: codes.length > 0 ? sayWhomToAsk(codes, rules) : null, open }
}
