import { addDays, type PlainDate } from '@/lib/domain/calendar/date'
import { individualCodes } from '@/lib/domain/label/code'
import { openStays, requirePlace } from '@/lib/features/housing/data'
import { requireSpecies } from '@/lib/features/species/data'
import { createZone } from '@/lib/features/zone/mutations'
import { takeNumbers } from '@/lib/platform/counter'
import type { Tx } from '@/lib/platform/db'
import { fromPlainDate } from '@/lib/platform/plain-date'
import type { Scope, Workspace } from '@/lib/platform/workspace'
import { makeToken, makeWorkspace, within } from '@/tests/support/workspaces'

export type Rack = {
  owner: Scope & { slug: string }
  token: string
  today: PlainDate
  zone: string
  cup: string
  day(offset: number): PlainDate
}

/** A workspace with one room at 26 °C and a shelf of small cups. */
export async function makeRack(name: string, cups = 200): Promise<Rack> {
  const owner = await makeWorkspace(name)
  const token = await makeToken(owner, 'owner')
  const made = await within(owner, async (tx, workspace) => {
    const zone = await createZone(tx, workspace, { name: 'Warm room', setTemperatureC: 26 })
    const cup = await tx.containerKind.create({
      data: {
        workspaceId: workspace.workspaceId,
        name: 'Cup 120 ml',
        volumeMl: 120,
        innerHeightMm: 70,
        innerWidthMm: 50,
        single: true,
        stock: cups,
      },
    })
    return { today: workspace.today, zone: zone.id, cup: cup.id }
  })
  return { owner, token, ...made, day: (offset) => addDays(made.today, offset) }
}

export type Nymph = { id: string; label: string; clutchId: string }
type Brood = {
  species?: string
  count: number
  hatchedOn: PlainDate
  partedOn?: PlainDate
  moults?: number
  lastMoultOn?: PlainDate | null
}

/** Siblings of one hatch, each in a cup of its own since the day they were parted. */
export async function makeNymphs(rack: Rack, brood: Brood): Promise<Nymph[]> {
  return within(rack.owner, async (tx, workspace) => {
    const clutchId = await makeClutch(tx, workspace, { rack, brood })
    const { workspaceId } = workspace
    const species = await requireSpecies(tx, workspaceId, brood.species ?? 'creobroter-spp')
    const partedOn = brood.partedOn ?? brood.hatchedOn
    const first = await takeNumbers(tx, workspaceId, { name: 'individual', count: brood.count })
    const labels = individualCodes({ first, count: brood.count }, String(workspace.labelKey))
    const made = await tx.individual.createManyAndReturn({
      data: labels.map((label) => ({
        workspaceId,
        label,
        speciesId: species.id,
        clutchId,
        whereabouts: 'together' as const,
        baselineOn: fromPlainDate(partedOn),
        baselineMoults: brood.moults ?? 0,
        baselineLastMoultOn: brood.lastMoultOn ? fromPlainDate(brood.lastMoultOn) : null,
      })),
      select: { id: true, label: true },
    })
    await tx.headCountEntry.createMany({
      data: made.map(({ id }) => ({
        workspaceId,
        clutchId,
        individualId: id,
        from: 'together' as const,
        to: 'single' as const,
        count: 1,
        on: fromPlainDate(partedOn),
      })),
    })
    const chosen = { containerKind: rack.cup, zone: rack.zone, animals: brood.count }
    const place = await requirePlace(tx, workspaceId, chosen)
    await openStays(tx, workspaceId, { individualIds: made.map(({ id }) => id), place, on: partedOn })
    return made.map(({ id, label }) => ({ id, label, clutchId }))
  })
}

export async function makeClutch(
  tx: Tx,
  workspace: Workspace,
  { rack, brood }: { rack: Rack; brood: Brood },
): Promise<string> {
  const { workspaceId } = workspace
  const species = await requireSpecies(tx, workspaceId, brood.species ?? 'creobroter-spp')
  const number = await takeNumbers(tx, workspaceId, { name: 'clutch', count: 1 })
  const hatchedOn = fromPlainDate(brood.hatchedOn)
  const clutch = await tx.clutch.create({
    data: { workspaceId, label: `C-${number}`, speciesId: species.id, hatchedOn, counted: true },
  })
  await tx.headCountEntry.create({
    data: {
      workspaceId,
      clutchId: clutch.id,
      from: 'uncounted',
      to: 'together',
      count: brood.count,
      on: hatchedOn,
    },
  })
  await tx.clutchHousing.create({
    data: { workspaceId, clutchId: clutch.id, zoneId: rack.zone, fromOn: hatchedOn },
  })
  return clutch.id
}

/** The head count of a clutch as the ledger's trigger keeps it. */
export function readHeadCount(rack: Rack, clutchId: string) {
  return within(rack.owner, (tx, { workspaceId }) =>
    tx.headCount.findUniqueOrThrow({ where: { workspaceId_clutchId: { workspaceId, clutchId } } }),
  )
}
