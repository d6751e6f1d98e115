import { loadForSale } from '@/lib/features/price-list/data'
import { priceListApi } from '@/lib/features/price-list/schema'
import { onePage } from '@/lib/platform/api/list'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(priceListApi.forSale, async ({ tx, workspace }) => {
  const { currency } = workspace
  const rows = await loadForSale(tx, workspace)
  return onePage(
    rows.map(({ speciesId, scientificName, stage, sex, count, priceMinor }) => ({
      ...{ species: speciesId, scientificName, stage, sex, count },
      price: { amount: priceMinor, currency },
    })),
  )
})
