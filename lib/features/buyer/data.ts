import { PERSONAL_FIELDS } from '@/lib/domain/buyer/retention'
import type { BuyerAnswer, BuyerInput, Experience } from '@/lib/features/buyer/schema'
import { pageOf } from '@/lib/platform/api/list'
import type { Tx } from '@/lib/platform/db'
import { refuseField, refuseUnknown } from '@/lib/platform/errors'
import type { Prisma } from '@/lib/platform/generated/prisma/client'
import { fromPlainDate, toPlainDateOrNull } from '@/lib/platform/plain-date'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

const FIELDS = {
  id: true,
  country: true,
  language: true,
  experience: true,
  keepConsentOn: true,
  newsConsentOn: true,
  erasureAskedOn: true,
  erasedOn: true,
  version: true,
  createdAt: true,
  person: { select: { name: true, email: true, phone: true, address: true, note: true } },
} satisfies Prisma.BuyerSelect

type Stored = Prisma.BuyerGetPayload<{ select: typeof FIELDS }>

export type BuyerRow = BuyerAnswer & { experience: Experience; createdAt: Date }

/** Buyers who are not erased, as they were added, a page at a time; `search` is a part of the name or mail address. */
export async function listBuyers(
  tx: Tx,
  workspaceId: WorkspaceId,
  { limit, cursor, search = '' }: { limit: number; cursor?: string; search?: string },
): Promise<{ items: BuyerRow[]; nextCursor: string | null }> {
  const part = { contains: search, mode: 'insensitive' as const }
  const rows = await tx.buyer.findMany({
    where: {
      workspaceId,
      erasedOn: null,
      ...(search ? { person: { workspaceId, OR: [{ name: part }, { email: part }] } } : {}),
      ...(cursor ? { id: { gt: cursor } } : {}),
    },
    select: FIELDS,
    orderBy: { id: 'asc' },
    take: limit + 1,
  })
  return pageOf(rows, limit, readBuyer)
}

export type BuyerChoice = { id: string; name: string; experience: Experience; country: string }

/** Everybody who may be chosen at the counter: not who is erased or has asked to be. One statement. */
export function listBuyerChoices(tx: Tx, workspaceId: WorkspaceId): Promise<BuyerChoice[]> {
  return tx.$queryRaw<BuyerChoice[]>`
    select b.id, n.name, b.experience::text as experience, b.country
    from buyer b join buyer_person n on n.workspace_id = b.workspace_id and n.buyer_id = b.id
    where b.workspace_id = ${workspaceId}::uuid and b.erased_on is null and b.erasure_asked_on is null
    order by n.name, b.id limit 2000`
}

/** One buyer. @throws AppError not-found */
export async function requireBuyer(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<BuyerRow> {
  const row = await tx.buyer.findUnique({
    where: { workspaceId_id: { workspaceId, id } },
    select: FIELDS,
  })
  if (!row) throw refuseUnknown('buyer')
  return readBuyer(row)
}

/** A buyer whom a receipt may name: not one who was, or is to be, forgotten. @throws AppError not-found, invalid */
export async function requireOpenBuyer(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<BuyerRow> {
  const buyer = await requireBuyer(tx, workspaceId, id)
  if (buyer.erasureAskedOn !== null)
    throw refuseField('buyer', 'This person asked to be forgotten and is not named on new records.')
  return buyer
}

function readBuyer({ person, ...row }: Stored): BuyerRow {
  const { name = '', email = '', phone = '', address = '', note = '' } = person ?? {}
  return {
    ...row,
    ...{ name, email, phone, address, note },
    keepConsentOn: toPlainDateOrNull(row.keepConsentOn),
    newsConsentOn: toPlainDateOrNull(row.newsConsentOn),
    erasureAskedOn: toPlainDateOrNull(row.erasureAskedOn),
    erasedOn: toPlainDateOrNull(row.erasedOn),
  }
}

/** What the API shows of a buyer. */
export function presentBuyer({ createdAt: _, ...buyer }: BuyerRow): BuyerAnswer {
  return buyer
}

/** A new buyer. What was agreed to is kept with its day. */
export async function openBuyer(
  tx: Tx,
  { workspaceId, today }: Workspace,
  buyer: BuyerInput,
): Promise<{ id: string; version: number }> {
  const { name, email, phone, address, note, country, language, experience } = buyer
  const { keepConsent, newsConsent } = buyer
  const person = { name, email, phone, address, note }
  const on = fromPlainDate(today)
  const made = await tx.buyer.create({
    data: {
      workspaceId,
      country,
      language,
      experience,
      keepConsentOn: keepConsent ? on : null,
      newsConsentOn: newsConsent ? on : null,
      changedFields: PERSONAL_FIELDS.filter((field) => person[field] !== ''),
    },
    select: { id: true, version: true },
  })
  await tx.buyerPerson.create({ data: { workspaceId, buyerId: made.id, ...person } })
  return made
}
