/** Siblings that stay together at the end of a run, and why. */
export type Staying = { count: number; reason: string }

/**
 * Those that hang for a moult are not touched until their skin is hard; the others may stay until their deadline.
 * `hanging` is as the keeper sees it and never more than are there.
 */
export function listStaying(run: {
  together: number
  hanging: number
  /** "Thursday 3 December" */
  hangingUntil: string
  deadline: string
}): Staying[] {
  const hanging = Math.max(0, Math.min(run.hanging, run.together))
  const until = run.hangingUntil ? `: leave alone until ${run.hangingUntil}` : ': leave alone'
  return [
    { count: hanging, reason: `hanging for a moult${until}` },
    { count: run.together - hanging, reason: run.deadline || 'as far as is known' },
  ].filter(({ count }) => count > 0)
}
