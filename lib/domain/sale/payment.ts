export const PAYMENT_KINDS = ['cash', 'card', 'transfer', 'voucher', 'other'] as const
export type PaymentKind = (typeof PAYMENT_KINDS)[number]

/** What was put down; null stands for all that is still open. */
export type PaidPart = { kind: PaymentKind; minor: number | null }
export type SettledPart = { kind: PaymentKind; amountMinor: number; givenMinor: number | null }
export type Settlement =
  | { status: 'settled'; parts: SettledPart[]; changeMinor: number }
  | { status: 'short'; missingMinor: number }
  | { status: 'too-much'; overMinor: number }

/** What is wrong with what was put down, in words; null where it is settled. */
export function sayUnsettled(
  settled: Settlement,
  { totalMinor, say }: { totalMinor: number; say: (minor: number) => string },
): string | null {
  if (settled.status === 'settled') return null
  return settled.status === 'short'
    ? `${say(settled.missingMinor)} of ${say(totalMinor)} are not paid.`
    : `${say(settled.overMinor)} more than ${say(totalMinor)}, and not in cash.`
}

/**
 * How a total was paid. Only cash may be more than what is due: the change is what it is over. Nothing put down at all
 * is no mistake, it was not said. Parts of nothing are left out.
 */
export function settle(totalMinor: number, paid: readonly PaidPart[]): Settlement {
  const said = paid.reduce((sum, { minor }) => sum + (minor ?? 0), 0)
  const open = paid.filter(({ minor }) => minor === null)
  const rest = Math.max(0, totalMinor - said)
  const over = said - totalMinor
  const cash = paid.find(({ kind, minor }) => kind === 'cash' && minor !== null && minor >= over)
  if (over > 0 && !cash) return { status: 'too-much', overMinor: over }
  if (paid.length > 0 && open.length === 0 && over < 0) return { status: 'short', missingMinor: -over }
  const changeMinor = Math.max(0, over)
  const parts = paid.map((part): SettledPart => {
    const minor = part.minor ?? (part === open[0] ? rest : 0)
    const amountMinor = part === cash ? minor - changeMinor : minor
    const isGiven = part.kind === 'cash' && part.minor !== null
    return { kind: part.kind, amountMinor, givenMinor: isGiven ? minor : null }
  })
  return { status: 'settled', parts: parts.filter(({ amountMinor }) => amountMinor > 0), changeMinor }
}
