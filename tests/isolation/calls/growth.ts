import { listDoubts, listEvidence, loadFitState, loadGrownSpecies } from '@/lib/features/growth-fit/data'
import { recordFailedFit, updateGrowthFit } from '@/lib/features/growth-fit/mutations'
import {
  listLateEntries,
  listMonthHashes,
  listPastWindows,
  listProfilesByDay,
  listSeenByMonth,
} from '@/lib/features/past-window/data'
import { updatePastWindows } from '@/lib/features/past-window/mutations'
import { listSpecies } from '@/lib/features/species/data'
import type { Calls } from './call'

const asked = async (
  tx: Parameters<typeof listSpecies>[0],
  workspaceId: Parameters<typeof listSpecies>[1],
) => ({
  species: await listSpecies(tx, workspaceId),
  zones: new Map(),
})

/** What was learned of growth, and the records it was learned from. */
export const GROWTH_READS: Calls = {
  'growth-fit/data loadGrownSpecies': async (tx, { workspace: { workspaceId } }, id) =>
    loadGrownSpecies(tx, workspaceId, {
      ...(await asked(tx, workspaceId)),
      animals: [{ id: id.individual }],
      clutchIds: [id.clutch],
    }),
  'growth-fit/data loadGrownSpecies, as of a day': async (tx, { workspace: { workspaceId } }) =>
    loadGrownSpecies(tx, workspaceId, { ...(await asked(tx, workspaceId)), asOf: '2026-03-20' }),
  'growth-fit/data loadFitState': (tx, { workspace }, id) =>
    loadFitState(tx, workspace.workspaceId, id.species),
  'growth-fit/data listDoubts': (tx, { workspace }, id) =>
    listDoubts(tx, workspace.workspaceId, { individualId: id.individual }),
  'growth-fit/data listEvidence': (tx, { workspace }, id) =>
    listEvidence(tx, workspace.workspaceId, { speciesIds: [id.species], asOf: '2026-03-20' }),
  'past-window/data listMonthHashes': (tx, { workspace }, id) =>
    listMonthHashes(tx, workspace.workspaceId, id.species),
  'past-window/data listProfilesByDay': (tx, { workspace }, id) =>
    listProfilesByDay(tx, workspace.workspaceId, { speciesId: id.species, days: ['2026-03-20'] }),
  'past-window/data listSeenByMonth': (tx, { workspace }, id) =>
    listSeenByMonth(tx, workspace.workspaceId, id.species),
  'past-window/data listLateEntries': (tx, { workspace }, id) => listLateEntries(tx, workspace, id.species),
  'past-window/data listPastWindows': (tx, { workspace }, id) =>
    listPastWindows(tx, workspace.workspaceId, { speciesId: id.species, asOf: '2026-03-20' }),
  'past-window/data listPastWindows, of an animal': (tx, { workspace }, id) =>
    listPastWindows(tx, workspace.workspaceId, { individualId: id.individual, asOf: '2026-03-20' }),
  'past-window/data listPastWindows, of a clutch': (tx, { workspace }, id) =>
    listPastWindows(tx, workspace.workspaceId, { clutchId: id.clutch, asOf: '2026-03-20' }),
  'past-window/data listPastWindows, of an egg case': (tx, { workspace }, id) =>
    listPastWindows(tx, workspace.workspaceId, { eggCaseId: id.eggCase, asOf: '2026-03-20' }),
}

export const GROWTH_WRITES: Calls = {
  'growth-fit/mutations updateGrowthFit': (tx, { workspace }, id) =>
    updateGrowthFit(tx, workspace, id.species),
  'growth-fit/mutations recordFailedFit': (tx, { workspace }, id) =>
    recordFailedFit(tx, workspace, { speciesId: id.species, failure: 'why' }),
  'past-window/mutations updatePastWindows': (tx, { workspace }, id) =>
    updatePastWindows(tx, workspace, { speciesId: id.species }),
}
