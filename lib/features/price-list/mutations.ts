import { moultsOfInstar } from '@/lib/domain/instar/label'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { minorAmount } from '@/lib/domain/money/money'
import { type PriceSubject, priceKey } from '@/lib/domain/price/price-list'
import { requireContainerKind } from '@/lib/features/container/data'
import { requireStoredLine } from '@/lib/features/prey/data'
import { requirePriceList } from '@/lib/features/price-list/data'
import type {
  AnimalPrice,
  CreatePriceList,
  PriceListVersion,
  StockPrice,
} from '@/lib/features/price-list/schema'
import { requireSpecies } from '@/lib/features/species/data'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField } from '@/lib/platform/errors'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

/** A new list, empty or with the prices of another one. The first is the one the counter proposes from. */
export async function createPriceList(
  tx: Tx,
  workspaceId: WorkspaceId,
  { name, copyOf }: CreatePriceList,
): Promise<{ id: string }> {
  const source = copyOf ? await requirePriceList(tx, workspaceId, copyOf) : null
  const others = await tx.priceList.count({ where: { workspaceId, archivedAt: null, proposed: true } })
  const made = await tx.priceList.create({
    data: { workspaceId, name, proposed: others === 0 },
    select: { id: true },
  })
  await tx.priceEntry.createMany({
    data: (source?.prices ?? []).map(({ label: _, ...price }) => ({
      workspaceId,
      listId: made.id,
      ...price,
    })),
  })
  return made
}

/** The counter proposes from this list from now on. @throws AppError stale, not-found */
export async function updateProposedList(
  tx: Tx,
  workspaceId: WorkspaceId,
  { id, version }: PriceListVersion,
): Promise<void> {
  await requirePriceList(tx, workspaceId, id)
  await tx.priceList.updateMany({
    where: { workspaceId, proposed: true, id: { not: id } },
    data: { proposed: false, version: { increment: 1 } },
  })
  const changed = await tx.priceList.updateMany({
    where: { workspaceId, id, version, archivedAt: null },
    data: { proposed: true, version: { increment: 1 } },
  })
  if (changed.count === 0) throw new AppError('stale', 'Someone else changed this list meanwhile.')
}

/** Out of use. @throws AppError stale, not-found */
export async function archivePriceList(
  tx: Tx,
  workspaceId: WorkspaceId,
  { id, version }: PriceListVersion,
): Promise<void> {
  await requirePriceList(tx, workspaceId, id)
  const changed = await tx.priceList.updateMany({
    where: { workspaceId, id, version, archivedAt: null },
    data: { archivedAt: new Date(), proposed: false, version: { increment: 1 } },
  })
  if (changed.count === 0) throw new AppError('stale', 'Someone else changed this list meanwhile.')
}

const NOTHING = {
  speciesId: null,
  moults: null,
  adult: false,
  sex: null,
  containerKindId: null,
  preySlug: null,
}

/** What an animal costs; without a price it is not for sale on this list. */
export async function updateAnimalPrice(tx: Tx, workspace: Workspace, typed: AnimalPrice): Promise<void> {
  const species = await requireSpecies(tx, workspace.workspaceId, typed.species)
  const subject: PriceSubject = {
    ...NOTHING,
    kind: 'animal',
    speciesId: species.id,
    sex: typed.sex ?? null,
    ...readStage(typed.stage, workspace),
  }
  await writePrice(tx, workspace, { list: typed.list, subject, price: typed.price })
}

function readStage(
  stage: string | undefined,
  workspace: Workspace,
): { moults: number | null; adult: boolean } {
  if (stage === undefined) return { moults: null, adult: false }
  if (stage === 'adult') return { moults: null, adult: true }
  const moults = moultsOfInstar(Number(stage), instarNamingOf(workspace).convention)
  if (moults === null) throw refuseField('stage', 'There is no such stage.')
  return { moults, adult: false }
}

/** What something of the stock costs. */
export async function updateStockPrice(tx: Tx, workspace: Workspace, typed: StockPrice): Promise<void> {
  const { workspaceId } = workspace
  const [kind = '', id = ''] = typed.what.split('~')
  const subject = await readStock(tx, workspaceId, { kind, id })
  await writePrice(tx, workspace, { list: typed.list, subject, price: typed.price })
}

async function readStock(
  tx: Tx,
  workspaceId: WorkspaceId,
  { kind, id }: { kind: string; id: string },
): Promise<PriceSubject> {
  if (kind === 'egg_case') {
    const species = await requireSpecies(tx, workspaceId, id)
    return { ...NOTHING, kind, speciesId: species.id }
  }
  if (kind === 'container') {
    const found = await requireContainerKind(tx, workspaceId, id)
    return { ...NOTHING, kind, containerKindId: found.id }
  }
  const { line } = await requireStoredLine(tx, workspaceId, id)
  return { ...NOTHING, kind: kind === 'culture' ? 'culture' : 'pack', preySlug: line.id }
}

type NewPrice = { list: string; subject: PriceSubject; price: number | undefined }

async function writePrice(tx: Tx, workspace: Workspace, { list, subject, price }: NewPrice): Promise<void> {
  const { workspaceId, currency } = workspace
  const { id: listId } = await requirePriceList(tx, workspaceId, list)
  const key = priceKey(subject)
  const priceMinor = price === undefined ? null : minorAmount(price, currency)
  const changed = await tx.priceEntry.updateMany({
    where: { workspaceId, listId, key },
    data: { priceMinor },
  })
  if (changed.count === 0)
    await tx.priceEntry.createMany({
      data: [{ workspaceId, listId, key, ...subject, priceMinor }],
      skipDuplicates: true,
    })
}
