import { listClutchesInColony, listColonies, requireColony } from '@/lib/features/colony/data'
import {
  archiveColony,
  createColony,
  recordColonyCount,
  recordColonyEntry,
  recordColonyMove,
} from '@/lib/features/colony/mutations'
import { recordTrayFeeding } from '@/lib/features/feeding/mutations'
import { endClutchStay } from '@/lib/features/housing/data'
import { requireSpecies } from '@/lib/features/species/data'
import { updateColonyRule } from '@/lib/features/species/mutations'
import {
  listTrayMoults,
  listTrays,
  loadRunOrTrayLabels,
  openTray,
  requireTray,
} from '@/lib/features/tray/data'
import { updateTakenFromTray } from '@/lib/features/tray/mutations'
import type { Calls } from './call'

const LATER = '2026-06-20'

export const HOUSING_READS: Calls = {
  'tray/data listTrays': (tx, { workspace }) => listTrays(tx, workspace.workspaceId),
  'tray/data requireTray': (tx, { workspace }, id) => requireTray(tx, workspace.workspaceId, id.tray),
  'tray/data loadRunOrTrayLabels': (tx, { workspace }, id) =>
    loadRunOrTrayLabels(tx, workspace, { ids: [id.individual], address: 'https://racks.example' }),
  'tray/data listTrayMoults': (tx, { workspace }, id) =>
    listTrayMoults(tx, workspace.workspaceId, { tray: id.tray, count: 1, on: LATER }),
  'tray/data openTray': (tx, { workspace }, id) => openTray(tx, workspace, { run: id.separation }),
  'housing/data endClutchStay': (tx, { workspace }, id) =>
    endClutchStay(tx, workspace.workspaceId, { clutchId: id.clutch, on: LATER, leavesContainer: true }),
  'colony/data listColonies': (tx, { workspace }, id) =>
    listColonies(tx, workspace.workspaceId, { id: id.colony, speciesId: id.species }),
  'colony/data requireColony': (tx, { workspace }, id) => requireColony(tx, workspace.workspaceId, id.colony),
  'colony/data listClutchesInColony': (tx, { workspace }, id) =>
    listClutchesInColony(tx, workspace.workspaceId, {
      colonyId: id.colony,
      from: '2026-03-01',
      until: LATER,
    }),
}

export const HOUSING_WRITES: Calls = {
  'tray/mutations updateTakenFromTray': (tx, { workspace }, id) =>
    updateTakenFromTray(tx, workspace.workspaceId, { tray: id.tray, count: 1 }),
  'feeding/mutations recordTrayFeeding': (tx, { workspace }, id) =>
    recordTrayFeeding(tx, workspace, { tray: id.tray, on: LATER, result: 'ate', prey: '' }),
  'colony/mutations createColony': (tx, actor, id) =>
    createColony(tx, actor, {
      name: 'Second cage',
      species: id.species,
      containerKind: id.boxKind,
      zone: id.zone,
      on: LATER,
      notes: '',
    }),
  'colony/mutations recordColonyEntry': (tx, actor, id) =>
    recordColonyEntry(tx, actor, {
      colony: id.colony,
      clutch: id.clutch,
      on: LATER,
      leastMoults: 2,
      mostMoults: 3,
      overrideReason: '',
    }),
  'colony/mutations recordColonyCount': (tx, actor, id) =>
    recordColonyCount(tx, actor, {
      colony: id.colony,
      on: LATER,
      lines: [{ sex: 'unsexed', moults: 3, adult: false, animals: 2 }],
    }),
  'colony/mutations recordColonyMove': async (tx, actor, id) => {
    const { workspaceId } = actor.workspace
    await tx.zone.create({ data: { workspaceId, name: 'Attic' } })
    const attic = await tx.zone.findFirstOrThrow({ where: { workspaceId, name: 'Attic' } })
    return recordColonyMove(tx, actor, { colony: id.colony, zone: attic.id, on: LATER })
  },
  'colony/mutations archiveColony': (tx, actor, id) =>
    archiveColony(tx, actor, { colony: id.colony, version: 1, on: LATER }),
  'species/mutations updateColonyRule': async (tx, { workspace: { workspaceId } }, id) => {
    const species = await requireSpecies(tx, workspaceId, id.species)
    const on = species.profileNumber ?? 0
    return updateColonyRule(tx, workspaceId, { species, allows: false, note: 'bitten', on })
  },
}
