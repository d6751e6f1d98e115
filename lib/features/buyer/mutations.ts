import {
  changedPersonalFields,
  type Erasure,
  ON_RECEIPTS,
  type PersonalFields,
  planErasure,
} from '@/lib/domain/buyer/retention'
import type { PlainDate } from '@/lib/domain/calendar/date'
import { instantOf } from '@/lib/domain/calendar/instant'
import { type BuyerRow, openBuyer, requireBuyer } from '@/lib/features/buyer/data'
import type { BuyerInput, BuyerVersion, UpdateBuyer } from '@/lib/features/buyer/schema'
import { endPaperNumbers } from '@/lib/features/paper/data'
import { loadLastSaleDay } from '@/lib/features/sale/data'
import { loadTill } from '@/lib/features/till/data'
import type { Tx } from '@/lib/platform/db'
import { AppError } from '@/lib/platform/errors'
import type { Prisma } from '@/lib/platform/generated/prisma/client'
import { dequeueErasure, enqueueErasure } from '@/lib/platform/jobs'
import { fromPlainDate, fromPlainDateOrNull } from '@/lib/platform/plain-date'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

/** Adds a buyer. What was agreed to is kept with its day. */
export function createBuyer(
  tx: Tx,
  workspace: Workspace,
  buyer: BuyerInput,
): Promise<{ id: string; version: number }> {
  return openBuyer(tx, workspace, buyer)
}

/** @throws AppError stale when someone else saved first, or the person is to be forgotten */
export async function updateBuyer(
  tx: Tx,
  { workspaceId, today }: Workspace,
  buyer: UpdateBuyer,
): Promise<{ version: number }> {
  const present = await lockBuyer(tx, workspaceId, buyer)
  if (present.erasureAskedOn !== null)
    throw new AppError('stale', 'This person asked to be forgotten; nothing is added any more.')
  const { name, email, phone, address, note } = buyer
  const person = { name, email, phone, address, note }
  const consentOn = (before: PlainDate | null, isGiven: boolean) =>
    isGiven ? fromPlainDate(before ?? today) : null
  await writeBuyer(tx, workspaceId, {
    present,
    person,
    data: {
      country: buyer.country,
      language: buyer.language,
      experience: buyer.experience,
      keepConsentOn: consentOn(present.keepConsentOn, buyer.keepConsent),
      newsConsentOn: consentOn(present.newsConsentOn, buyer.newsConsent),
    },
  })
  return { version: present.version + 1 }
}

/** The buyer as it is now, its row held until the transaction ends. @throws AppError stale, not-found */
async function lockBuyer(tx: Tx, workspaceId: WorkspaceId, { id, version }: BuyerVersion): Promise<BuyerRow> {
  await tx.$queryRaw`
    select id from buyer where workspace_id = ${workspaceId}::uuid and id = ${id}::uuid for update`
  const present = await requireBuyer(tx, workspaceId, id)
  if (present.version === version) return present
  const { name, email, phone, address, country, language, experience, note } = present
  throw new AppError('stale', 'Someone else changed this buyer meanwhile.', {
    present: { name, email, phone, address, country, language, experience, note, version: present.version },
  })
}

type Written = {
  present: BuyerRow
  person: PersonalFields
  data: Prisma.BuyerUpdateManyMutationInput
}

async function writeBuyer(tx: Tx, workspaceId: WorkspaceId, { present, person, data }: Written) {
  const { id, name, email, phone, address, note } = present
  const changedFields = changedPersonalFields({ name, email, phone, address, note }, person)
  await tx.buyer.updateMany({
    where: { workspaceId, id },
    data: { ...data, changedFields, version: { increment: 1 } },
  })
  if (changedFields.length > 0)
    await tx.buyerPerson.updateMany({ where: { workspaceId, buyerId: id }, data: person })
}

const NOBODY: PersonalFields = { name: '', email: '', phone: '', address: '', note: '' }

/**
 * Forgets the person: at once, or, while receipts that name them have to be kept, when that duty ends. Until then only
 * what stands on those receipts is kept. Sales keep their figures.
 */
export async function endBuyer(
  tx: Tx,
  workspace: Workspace,
  wish: BuyerVersion,
): Promise<{ id: string; status: 'erased' | 'waits'; until: PlainDate | null }> {
  const present = await lockBuyer(tx, workspace.workspaceId, wish)
  if (present.erasedOn !== null) throw new AppError('already-recorded', 'This person is already forgotten.')
  const plan = await applyErasure(tx, workspace, present)
  return { id: wish.id, status: plan.status === 'now' ? 'erased' : 'waits', until: untilOf(plan) }
}

const untilOf = (plan: Erasure) => (plan.status === 'waits' ? plan.until : null)

async function applyErasure(tx: Tx, workspace: Workspace, present: BuyerRow): Promise<Erasure> {
  const { workspaceId, today, timeZone } = workspace
  const { retentionYears } = await loadTill(tx, workspaceId)
  const lastSaleOn = await loadLastSaleDay(tx, workspaceId, present.id)
  const plan = planErasure({ lastSaleOn, retentionYears }, today)
  const kept = plan.status === 'waits' ? ON_RECEIPTS : []
  const person = { ...NOBODY, ...Object.fromEntries(kept.map((field) => [field, present[field]])) }
  await writeBuyer(tx, workspaceId, {
    present,
    person,
    data: {
      experience: 'unknown',
      language: '',
      newsConsentOn: null,
      keepConsentOn: null,
      erasureAskedOn: fromPlainDate(present.erasureAskedOn ?? today),
      erasedOn: plan.status === 'now' ? fromPlainDateOrNull(today) : null,
    },
  })
  await endOpenFor(tx, workspaceId, { buyerId: present.id, today })
  if (plan.status === 'now') await endPaperNumbers(tx, workspaceId, present.id)
  if (plan.status === 'waits')
    await enqueueErasure(tx, workspaceId, {
      buyerId: present.id,
      dueMs: instantOf(plan.until, '03:00', timeZone),
    })
  else await dequeueErasure(tx, workspaceId, present.id)
  return plan
}

/** Nothing is held for, or promised to, somebody who is to be forgotten. */
async function endOpenFor(
  tx: Tx,
  workspaceId: WorkspaceId,
  { buyerId, today }: { buyerId: string; today: PlainDate },
): Promise<void> {
  const open = { workspaceId, buyerId, endedOn: null }
  const ended = { endedOn: fromPlainDate(today), version: { increment: 1 } }
  await tx.reservation.updateMany({ where: open, data: { ...ended, end: 'released' } })
  await tx.wish.updateMany({ where: open, data: { ...ended, end: 'withdrawn' } })
  // An order that is still here needs to know where it goes; its address is forgotten with the others afterwards.
  const gone = { OR: [{ leftOn: { not: null } }, { cancelledOn: { not: null } }] }
  await tx.orderAddress.updateMany({
    where: { workspaceId, order: { workspaceId, buyerId, ...gone } },
    data: { name: '', address: '', phone: '' },
  })
}

/** The duty to keep has ended, as far as was known when it was asked: looked at again, since receipts may have followed. */
export async function finishErasure(tx: Tx, workspace: Workspace, buyerId: string): Promise<void> {
  const { version, erasedOn, erasureAskedOn } = await requireBuyer(tx, workspace.workspaceId, buyerId)
  if (erasedOn !== null || erasureAskedOn === null) return
  const present = await lockBuyer(tx, workspace.workspaceId, { id: buyerId, version })
  await applyErasure(tx, workspace, present)
}
