import { instarLabel } from '@/lib/domain/instar/label'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { listStages } from '@/lib/domain/instar/stages'
import { minorDigits } from '@/lib/domain/money/money'
import { isAllowed } from '@/lib/domain/role/permissions'
import { writeCsv } from '@/lib/domain/table/csv'
import { listPriceLists, loadForSale } from '@/lib/features/price-list/data'
import { loadPublicList } from '@/lib/features/public-list/data'
import { loadSpeciesById } from '@/lib/features/species/data'
import { listStockChoices } from '@/lib/features/stock-line/data'
import { loadPage } from '@/lib/platform/page'

/** The lists with their prices, and what a price can be set for. */
export function loadPricesPage(slug: string, asked: string | undefined) {
  return loadPage({ slug, permission: 'price-list:read' }, async ({ tx, workspace, scope }) => {
    const { workspaceId, currency } = workspace
    const lists = await listPriceLists(tx, workspaceId)
    const naming = instarNamingOf(workspace)
    const list = lists.find(({ id }) => id === asked) ?? lists[0] ?? null
    const species = [...(await loadSpeciesById(tx, workspaceId)).values()]
    const choices = await listStockChoices(tx, workspaceId)
    return {
      lists: lists.map(({ id, name, proposed }) => ({ id, name, proposed })),
      list: list && {
        ...list,
        prices: list.prices.map((price) => ({
          ...price,
          stage: price.adult ? 'adult' : price.moults === null ? '' : instarLabel(price.moults, naming),
        })),
      },
      species: species.map(({ id, scientificName }) => ({ value: id, label: scientificName })),
      stages: listStages(naming),
      stock: [
        ...species.map(({ id, scientificName }) => ({
          value: `egg_case~${id}`,
          label: `Egg case of ${scientificName}`,
        })),
        ...choices.flatMap(({ kind, id, label }) => {
          if (kind === 'container') return [{ value: `container~${id}`, label }]
          if (kind !== 'pack') return []
          return [
            { value: `pack~${id}`, label: `Pack of ${label}` },
            { value: `culture~${id}`, label: `Culture of ${label}` },
          ]
        }),
      ],
      currency,
      mayWrite: isAllowed(scope.role, 'price-list:write'),
      maySell: isAllowed(scope.role, 'sale:read'),
    }
  })
}
export type PricesPage = Awaited<ReturnType<typeof loadPricesPage>>

/** What is for sale, as a page and as a table. */
export function loadForSalePage(slug: string) {
  return loadPage({ slug, permission: 'price-list:read' }, async ({ tx, workspace, scope }) => ({
    rows: await loadForSale(tx, workspace),
    publicList: await loadPublicList(tx, workspace.workspaceId),
    mayPublish: isAllowed(scope.role, 'workspace:write'),
    currency: workspace.currency,
    today: workspace.today,
    mayWrite: isAllowed(scope.role, 'price-list:write'),
    maySell: isAllowed(scope.role, 'sale:read'),
  }))
}
export type ForSalePage = Awaited<ReturnType<typeof loadForSalePage>>

export async function loadForSaleFile(slug: string): Promise<{ text: string; name: string }> {
  const { rows, currency, today } = await loadForSalePage(slug)
  const digits = 10 ** minorDigits(currency)
  const text = writeCsv(
    ['Species', 'Stage', 'Sex', 'Animals', 'Price', 'Currency'],
    rows.map(({ scientificName, stage, sex, count, priceMinor }) => [
      ...[scientificName, stage, sex, count, priceMinor / digits, currency],
    ]),
  )
  return { text, name: `for-sale-${today}.csv` }
}
