import { listSales, presentSale, requireSale } from '@/lib/features/sale/data'
import { createSale } from '@/lib/features/sale/mutations'
import { type NewSale, type NewSaleRequest, saleApi } from '@/lib/features/sale/schema'
import { apiRoute } from '@/lib/platform/api/route'
import { refuseField } from '@/lib/platform/errors'
import type { Workspace } from '@/lib/platform/workspace'

export const GET = apiRoute(saleApi.list, async ({ tx, workspace, query }) => {
  const { items, nextCursor } = await listSales(tx, workspace.workspaceId, query)
  return { items: items.map(presentSale), nextCursor }
})

export const POST = apiRoute(saleApi.create, async ({ tx, scope, workspace, body }) => {
  const { value, warnings } = await createSale(tx, { scope, workspace }, readSale(body, workspace))
  return { ...presentSale(await requireSale(tx, workspace.workspaceId, value.id)), warnings }
})

function readSale(
  { on, individuals, lines, note, buyer }: NewSaleRequest,
  { today, currency }: Workspace,
): NewSale {
  lines.forEach(({ individual, price }, index) => {
    if (!individuals.includes(individual))
      throw refuseField(`lines.${index}.individual`, 'This animal is not among those sold.')
    if (price && price.currency !== currency)
      throw refuseField(`lines.${index}.price.currency`, `This workspace sells in ${currency}.`)
  })
  return {
    on: on ?? today,
    note,
    buyer: buyer ?? null,
    lines: individuals.map((individual, index) => {
      const line = lines.find((candidate) => candidate.individual === individual)
      return {
        individual,
        priceMinor: line?.price?.amount ?? 0,
        overrideReason: line?.overrideReason ?? '',
        at: `individuals.${index}`,
      }
    }),
  }
}
