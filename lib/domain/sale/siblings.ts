import { formatCode } from '../label/code'

type Sibling = { id: string; label: string; clutchId: string | null }

/** For each animal of a basket the labels of its siblings in it, as people read them; who has none is missing. O(n²). */
export function siblingsInBasket(animals: readonly Sibling[]): Map<string, string[]> {
  return new Map(
    animals.flatMap(({ id, clutchId }) => {
      const others = animals.filter(
        (other) => clutchId !== null && other.clutchId === clutchId && other.id !== id,
      )
      return others.length === 0 ? [] : [[id, others.map(({ label }) => formatCode(label))] as const]
    }),
  )
}
