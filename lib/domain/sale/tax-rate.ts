/** A rate of tax, in hundredths of a per cent, and the kinds of thing it is proposed for. */
export type ProposableRate = { basisPoints: number; appliesTo: readonly string[] }

/** The rate proposed for a kind of thing; nothing where none is set for it. */
export function proposedRate(rates: readonly ProposableRate[], kind: string): number {
  return rates.find(({ appliesTo }) => appliesTo.includes(kind))?.basisPoints ?? 0
}
