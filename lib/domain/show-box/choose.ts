import type { PlainDate } from '../calendar/date'
import { checkAnimal, type TravellingAnimal } from '../dispatch/animal'
import { stageOfChosen } from '../dispatch/order'
import type { InstarNaming } from '../instar/label'

/** An animal that could travel to a show. `kind`: those that look alike to a visitor; `chance` in 0…1. */
export type BoxCandidate = { id: string; kind: string; chance: number }

export type ShowDays = { packOn: PlainDate; returnOn: PlainDate }

/** What is asked of an animal that travels: fit on every day from packing to the return. */
export type BoxQuestion = ShowDays & { today: PlainDate; naming: InstarNaming }

/** Why one stays at home; null where it may go. `chance`: P(it neither moults nor is soft on these days). */
export type BoxCheck = { chance: number; why: string | null }

/**
 * Whether an animal may stand in a box from packing to its return. It is the question of a parcel that is on its way as
 * long: outside the moult and hardening windows with nine chances in ten, old enough, fed, out of quarantine. The air is
 * not asked about: people travel with it. O(states) per animal, as `fitnessOn`.
 */
export function checkForBox(animal: TravellingAnimal, asked: BoxQuestion): BoxCheck {
  const { packOn, returnOn, today, naming } = asked
  const { fitness, block } = checkAnimal(animal, {
    journey: { packOn, arriveOn: returnOn },
    stage: stageOfChosen(animal),
    rules: {
      ...{ today, naming, air: { isKnown: false, range: null, missing: null } },
      handing: { isNextDay: false, isCollected: false },
    },
  })
  return { chance: fitness.chance, why: block?.message ?? null }
}

/**
 * So many animals for a table at a show: of each kind the safest first, the kinds by turns, so that visitors have a
 * choice. Fewer where there are not as many. Sorted as they were chosen; ties by id, so the same room gives the same
 * box. O(n log n).
 */
export function chooseForBox(candidates: readonly BoxCandidate[], count: number): BoxCandidate[] {
  const safest = candidates.toSorted((a, b) => b.chance - a.chance || a.id.localeCompare(b.id))
  const seen = new Map<string, number>()
  const ranked = safest.map((candidate) => {
    const rank = seen.get(candidate.kind) ?? 0
    seen.set(candidate.kind, rank + 1)
    return { candidate, rank }
  })
  return ranked
    .sort((a, b) => a.rank - b.rank || b.candidate.chance - a.candidate.chance)
    .slice(0, count)
    .map(({ candidate }) => candidate)
}

/** Which part each animal goes into, counted from 1: every kind is dealt out by turns. O(n). */
export function dealToParts(chosen: readonly BoxCandidate[], parts: number): Map<string, number> {
  const byKind = chosen.toSorted((a, b) => a.kind.localeCompare(b.kind) || a.id.localeCompare(b.id))
  return new Map(byKind.map(({ id }, index) => [id, (index % parts) + 1]))
}
