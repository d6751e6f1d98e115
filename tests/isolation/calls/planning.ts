import { loadClutchGround } from '@/lib/features/clutch/data'
import { listContainerKinds } from '@/lib/features/container/data'
import { loadForecastGround } from '@/lib/features/egg-case/data'
import { loadHatchCheckGround } from '@/lib/features/hatch-check/data'
import { listHoused, requireKind } from '@/lib/features/housing/data'
import { recordClutchHousing, recordMovesUp } from '@/lib/features/housing/mutations'
import { clutchHousingFormSchema } from '@/lib/features/housing/schema'
import { loadRoomForecast, loadRoomGround } from '@/lib/features/room-forecast/data'
import { loadBenchHours, loadLabour, loadPlanGround } from '@/lib/features/separation-plan/data'
import { recordBenchDay, updateBenchHours } from '@/lib/features/separation-plan/mutations'
import { loadOwnLosses } from '@/lib/features/sibling-loss/data'
import type { Tx } from '@/lib/platform/db'
import type { Workspace } from '@/lib/platform/workspace'
import type { Calls } from './call'

const LATER = '2026-06-20'

async function groundOf(tx: Tx, workspace: Workspace) {
  const ground = await loadForecastGround(tx, workspace)
  return { ground, kinds: await listContainerKinds(tx, workspace.workspaceId) }
}

export const PLAN_READS: Calls = {
  'clutch/data loadClutchGround': (tx, { workspace }) => loadClutchGround(tx, workspace),
  'housing/data listHoused': (tx, { workspace }) => listHoused(tx, workspace.workspaceId),
  'housing/data requireKind': (tx, { workspace }, id) =>
    requireKind(tx, workspace.workspaceId, { containerKind: id.containerKind, animals: 1 }),
  'hatch-check/data loadHatchCheckGround': async (tx, { workspace }, id) => {
    const { room, span, speciesId } = await loadHatchCheckGround(tx, workspace, {
      species: id.species,
      zone: id.zone,
    })
    return { room, span, speciesId }
  },
  'room-forecast/data loadRoomGround': (tx, { workspace }) => loadRoomGround(tx, workspace, { days: 7 }),
  'room-forecast/data loadRoomForecast': async (tx, { workspace }) => {
    const { room, forecast } = await loadRoomForecast(tx, workspace, { days: 7, asOf: '2026-06-20' })
    return { room, series: forecast.series }
  },
  'separation-plan/data loadBenchHours': (tx, { workspace }) =>
    loadBenchHours(tx, workspace.workspaceId, { from: '2026-12-01', days: 30 }),
  'separation-plan/data loadLabour': (tx, { workspace }) => loadLabour(tx, workspace.workspaceId),
  'separation-plan/data loadPlanGround': (tx, { workspace }, id) =>
    loadPlanGround(tx, workspace, {
      from: workspace.today,
      days: 7,
      containers: [{ kind: id.containerKind, free: 3, ordered: [] }],
    }),
  'sibling-loss/data loadOwnLosses': async (tx, { workspace }) => {
    const { ground } = await groundOf(tx, workspace)
    return loadOwnLosses(tx, workspace.workspaceId, ground)
  },
}

export const PLAN_WRITES: Calls = {
  'housing/mutations recordClutchHousing': (tx, { workspace }, id) =>
    recordClutchHousing(
      tx,
      workspace,
      clutchHousingFormSchema.parse({ clutch: id.clutch, on: LATER, zone: id.zone }),
    ),
  'housing/mutations recordMovesUp': (tx, { workspace }, id) =>
    recordMovesUp(tx, workspace, {
      on: LATER,
      moves: [{ individual: id.individual, containerKind: id.containerKind }],
    }),
  'separation-plan/mutations updateBenchHours': (tx, { workspace }) =>
    updateBenchHours(tx, workspace.workspaceId, { version: 1, minutesByWeekday: [0, 0, 0, 0, 0, 60, 60] }),
  'separation-plan/mutations recordBenchDay': (tx, { workspace }) =>
    recordBenchDay(tx, workspace, { on: workspace.today, minutes: 0, note: 'away' }),
}
