import { type GrowthRecord, moultsOf } from '../individual/record'

/**
 * Animals of a tray cannot be told apart, so what is seen of some of them is recorded of any in the right stage. Which
 * ones is settled here, always in the same way, so that records stay as close together as the animals do.
 */
export type TrayAnimal = GrowthRecord & { id: string }

const byId = (a: TrayAnimal, b: TrayAnimal) => (a.id < b.id ? -1 : 1)

/** Those of whom a skin was found: the ones with the fewest moults first, since those behind moult next. */
export function chooseMoulted<Animal extends TrayAnimal>(
  animals: readonly Animal[],
  count: number,
): Animal[] {
  return animals.toSorted((a, b) => moultsOf(a) - moultsOf(b) || byId(a, b)).slice(0, count)
}

/** Those who are taken out: of a stage, or of whichever; the newest cups first, which leaves the tray's beginning whole. */
export function chooseTaken<Animal extends TrayAnimal>(
  animals: readonly Animal[],
  { count, moults }: { count: number; moults?: number },
): Animal[] {
  const fitting = animals.filter((animal) => moults === undefined || moultsOf(animal) === moults)
  return fitting.toSorted((a, b) => byId(b, a)).slice(0, count)
}

/** How many there are in each stage, the youngest first. */
export function trayStages(animals: readonly TrayAnimal[]): { moults: number; count: number }[] {
  const counts = new Map<number, number>()
  for (const animal of animals) counts.set(moultsOf(animal), (counts.get(moultsOf(animal)) ?? 0) + 1)
  return [...counts].map(([moults, count]) => ({ moults, count })).sort((a, b) => a.moults - b.moults)
}
