/**
 * Which animal fills which place of an order. Animals are tried from the safest down, each added if the places can
 * be arranged around it (an augmenting path). Sets of animals that can be placed together form a matroid, so this
 * greedy choice has the largest number of animals and, among those, the safest ones. O(animals × places × options).
 */
export type Option = { place: number; animal: string; chance: number }
export type Placed = { place: number; animal: string; chance: number }

export function placeSafest(places: number, options: readonly Option[]): Placed[] {
  const optionsOf = new Map<string, Option[]>()
  for (const option of options) {
    const known = optionsOf.get(option.animal)
    if (known) known.push(option)
    else optionsOf.set(option.animal, [option])
  }
  const best = (animal: string) => Math.max(...(optionsOf.get(animal) ?? []).map(({ chance }) => chance))
  const animals = [...optionsOf.keys()].sort(
    (one, other) => best(other) - best(one) || (one < other ? -1 : 1),
  )
  const taken = new Map<number, Option>()
  for (const animal of animals) {
    if (taken.size === places) break
    arrange(animal, { optionsOf, taken, tried: new Set() })
  }
  return [...taken.values()].sort((one, other) => one.place - other.place)
}

type Arrangement = { optionsOf: Map<string, Option[]>; taken: Map<number, Option>; tried: Set<number> }

function arrange(animal: string, arrangement: Arrangement): boolean {
  const { optionsOf, taken, tried } = arrangement
  const options = [...(optionsOf.get(animal) ?? [])].sort((one, other) => one.place - other.place)
  for (const option of options) {
    if (tried.has(option.place)) continue
    tried.add(option.place)
    const holder = taken.get(option.place)
    if (holder && !arrange(holder.animal, arrangement)) continue
    taken.set(option.place, option)
    return true
  }
  return false
}
