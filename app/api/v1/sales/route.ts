import { listSales, presentSale, requireSale } from '@/lib/features/sale/data'
import { createSale } from '@/lib/features/sale/mutations'
import {
  basisPoints,
  type NewSale,
  type NewSaleRequest,
  saleApi,
  subjectOf,
} from '@/lib/features/sale/schema'
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

function readSale(body: NewSaleRequest, { today, currency }: Workspace): NewSale {
  const { on, individuals, lines, stock, discount, payments, certifiedNumber, note, buyer, papers } = body
  const minorOf = (money: Spoken, path: string) => readMinor(money, { path, currency })
  lines.forEach(({ individual }, index) => {
    if (!individuals.includes(individual))
      throw refuseField(`lines.${index}.individual`, 'This animal is not among those sold.')
  })
  const termsOf = (terms: Terms, path: string) => ({
    unitPriceMinor: minorOf(terms?.price, `${path}.price`),
    discountMinor: minorOf(terms?.discount, `${path}.discount`),
    taxBasisPoints: basisPoints(terms?.taxPercent),
    overrideReason: terms?.overrideReason ?? '',
  })
  return {
    ...{ on: on ?? today, note, certifiedNumber, papers },
    buyer: buyer ?? null,
    discountMinor: minorOf(discount, 'discount'),
    payments: payments.map(({ kind, amount }, index) => ({
      kind,
      minor: amount ? minorOf(amount, `payments.${index}.amount`) : null,
    })),
    lines: [
      ...individuals.map((individual, index) => {
        const at = lines.findIndex((candidate) => candidate.individual === individual)
        const terms = termsOf(lines[at], `lines.${at}`)
        return { kind: 'animal' as const, individual, ...terms, at: `individuals.${index}` }
      }),
      ...stock.map((line, index) => ({
        ...subjectOf(line),
        ...termsOf(line, `stock.${index}`),
        at: `stock.${index}.price`,
      })),
    ],
  }
}

type Spoken = NewSaleRequest['discount']
type Terms =
  | Pick<NewSaleRequest['lines'][number], 'price' | 'discount' | 'taxPercent' | 'overrideReason'>
  | undefined

function readMinor(money: Spoken, { path, currency }: { path: string; currency: string }): number {
  if (money && money.currency !== currency)
    throw refuseField(`${path}.currency`, `This workspace sells in ${currency}.`)
  return money?.amount ?? 0
}
