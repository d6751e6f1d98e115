import { type Change, type Evaluation, evaluate } from './evaluation'
import { breachOf, missingBatches } from './feasible'
import type { PlanRoom } from './room'

/** What the search found: whole starts and orders by slot, and their mean cost. */
export type FoundCounts = { counts: number[]; cost: number; effort: number }

export type SearchOptions = {
  /** Where to begin: last plan's counts, or what a program said. */
  start?: readonly number[]
  /** Scenario-days to play at most; the best so far is the answer then. */
  effort: number
}

/**
 * Whole starts and orders by walking downhill over the scenarios: each slot by doubling steps, then one or more
 * moved between neighbouring slots of a line and between lines of a week. The mean cost is near enough to convex
 * in the counts for that to end within a percent of the program's optimum. O(effort).
 */
export function searchCounts(room: PlanRoom, options: SearchOptions): FoundCounts {
  const evaluation = evaluate(room, beginning(room, options.start))
  const search: Search = { room, evaluation, limit: options.effort }
  for (const stride of [8, 3, 1]) {
    let [before, rounds] = [Number.POSITIVE_INFINITY, 0]
    while (evaluation.cost < before * (1 - 1e-4) && rounds < 6 && evaluation.effort < options.effort) {
      before = evaluation.cost
      rounds += 1
      for (let slot = 0; slot < room.slots.length; slot += 1) stepSlot(search, slot, stride)
      for (const [from, to] of neighbours(room)) shift(search, { from, to, stride })
    }
  }
  return {
    counts: evaluation.counts,
    cost: evaluation.cost / room.scenarios.length,
    effort: evaluation.effort,
  }
}

type Search = { room: PlanRoom; evaluation: Evaluation; limit: number }

/** A start within the limits, with the batches of different age that a line in use needs where they fit. */
function beginning(room: PlanRoom, start: readonly number[] | undefined): number[] {
  const counts = room.slots.map((_, slot) =>
    Math.min(room.most[slot]!, Math.max(0, Math.round(start?.[slot] ?? 0))),
  )
  while (breachOf(room, counts).limits > 0) {
    const last = counts.findLastIndex((count) => count > 0)
    if (last < 0) break
    counts[last]! -= 1
  }
  for (let missing = missingBatches(room, counts); missing > 0; ) {
    const slot = counts.findIndex((count, index) => {
      if (count > 0 || room.slots[index]!.kind !== 'start' || room.most[index]! < 1) return false
      counts[index] = 1
      const { limits, batches } = breachOf(room, counts)
      counts[index] = 0
      return limits === 0 && batches < missing
    })
    if (slot < 0) break
    counts[slot] = 1
    missing = missingBatches(room, counts)
  }
  return counts
}

/** Goes up, or else down, in doubling steps as long as it pays. */
function stepSlot(search: Search, slot: number, stride: number): void {
  const { evaluation, room } = search
  for (const direction of [1, -1]) {
    let step = stride
    let hasMoved = false
    for (;;) {
      const present = evaluation.counts[slot]!
      const to = Math.min(room.most[slot]!, Math.max(0, present + direction * step))
      if (to === present || !accept(search, [{ slot, to }])) break
      hasMoved = true
      step *= 2
    }
    if (hasMoved) return
  }
}

function shift(search: Search, { from, to, stride }: { from: number; to: number; stride: number }): void {
  const { counts } = search.evaluation
  for (const [give, take] of [
    [from, to],
    [to, from],
  ] as const) {
    const moved = Math.min(stride, counts[give]!, search.room.most[take]! - counts[take]!)
    if (moved < 1) continue
    const changes = [
      { slot: give, to: counts[give]! - moved },
      { slot: take, to: counts[take]! + moved },
    ]
    if (accept(search, changes)) return
  }
}

function accept({ room, evaluation, limit }: Search, changes: readonly Change[]): boolean {
  if (evaluation.effort >= limit) return false
  const counts = [...evaluation.counts]
  for (const { slot, to } of changes) counts[slot] = to
  const [now, then] = [breachOf(room, evaluation.counts), breachOf(room, counts)]
  if (then.limits > 0 || then.batches > now.batches) return false
  const cost = evaluation.costWith(changes, evaluation.cost)
  if (cost >= evaluation.cost - 1e-7) return false
  evaluation.apply(changes)
  return true
}

function neighbours({ slots }: PlanRoom): [number, number][] {
  const pairs: [number, number][] = []
  slots.forEach((slot, index) => {
    const next = slots.findIndex((other, at) => at > index && other.line === slot.line)
    if (next >= 0) pairs.push([index, next])
    slots.forEach((other, at) => {
      if (at > index && other.day === slot.day && other.line !== slot.line) pairs.push([index, at])
    })
  })
  return pairs
}
