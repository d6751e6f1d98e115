/** What a price is for: an animal by species, stage and sex, each perhaps left open, or something of the stock. */
export type PriceSubject = {
  kind: 'animal' | 'egg_case' | 'culture' | 'container' | 'pack'
  speciesId: string | null
  /** moults since hatch; null for any stage, or for adults where `adult` */
  moults: number | null
  adult: boolean
  sex: 'male' | 'female' | 'unsexed' | null
  containerKindId: string | null
  preySlug: string | null
}
export type Price = PriceSubject & { priceMinor: number | null }

/** One text for one subject, so that a list has one price for it. */
export function priceKey(subject: PriceSubject): string {
  const { kind, speciesId, moults, adult, sex, containerKindId, preySlug } = subject
  const stage = adult ? 'adult' : moults === null ? 'any' : String(moults)
  return [kind, speciesId ?? containerKindId ?? preySlug ?? '', stage, sex ?? 'any'].join('|')
}

export type PricedAnimal = {
  speciesId: string
  moults: number
  isAdult: boolean
  sex: 'male' | 'female' | 'unsexed'
}

/**
 * The price of an animal: of the entries that fit it the one that says most, the stage counting more than the sex. Null
 * where none fits or the one that does has no price. O(n).
 */
export function priceOfAnimal(prices: readonly Price[], animal: PricedAnimal): number | null {
  const fitting = prices.filter((price) => price.kind === 'animal' && fits(price, animal))
  const best = fitting.reduce<Price | null>(
    (found, price) => (found === null || weigh(price) > weigh(found) ? price : found),
    null,
  )
  return best?.priceMinor ?? null
}

function fits(price: Price, animal: PricedAnimal): boolean {
  const isStage = price.adult
    ? animal.isAdult
    : price.moults === null || (!animal.isAdult && price.moults === animal.moults)
  return price.speciesId === animal.speciesId && isStage && (price.sex === null || price.sex === animal.sex)
}

function weigh({ adult, moults, sex }: Price): number {
  return (adult || moults !== null ? 2 : 0) + (sex === null ? 0 : 1)
}

/** The price of something of the stock: an egg case by its species, the rest by what it is. */
export function priceOfStock(
  prices: readonly Price[],
  stock: { kind: string; id: string; speciesId: string | null },
): number | null {
  const wanted = stock.kind === 'egg_case' ? stock.speciesId : stock.id
  const found = prices.find(
    ({ kind, speciesId, containerKindId, preySlug }) =>
      kind === stock.kind && (speciesId ?? containerKindId ?? preySlug) === wanted,
  )
  return found?.priceMinor ?? null
}
