import { listTaxSums } from '@/lib/features/register/data'
import { registerApi } from '@/lib/features/register/schema'
import { onePage } from '@/lib/platform/api/list'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(registerApi.taxes, async ({ tx, workspace, query }) => {
  const { workspaceId, currency } = workspace
  const sums = await listTaxSums(tx, workspaceId, query)
  return onePage(
    sums.map(({ taxBasisPoints, netMinor, taxMinor, grossMinor }) => ({
      ...{ percent: taxBasisPoints / 100, net: netMinor, tax: taxMinor, gross: grossMinor, currency },
    })),
  )
})
