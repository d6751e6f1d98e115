import { listPriceLists } from '@/lib/features/price-list/data'
import { priceListApi } from '@/lib/features/price-list/schema'
import { onePage } from '@/lib/platform/api/list'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(priceListApi.list, async ({ tx, workspace }) => {
  const { workspaceId, currency } = workspace
  const lists = await listPriceLists(tx, workspaceId)
  return onePage(
    lists.map(({ id, name, proposed, version, prices }) => ({
      ...{ id, name, isProposed: proposed, version },
      prices: prices.map(
        ({ kind, speciesId, moults, adult, sex, containerKindId, preySlug, priceMinor }) => ({
          ...{ kind, moults, sex, species: speciesId, isAdult: adult, containerKind: containerKindId },
          line: preySlug,
          price: { amount: priceMinor ?? 0, currency },
        }),
      ),
    })),
  )
})
