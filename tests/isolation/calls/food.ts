import { listCultures, listRecentCultures, loadShelf, requireCulture } from '@/lib/features/culture/data'
import {
  archiveHarvest,
  createCultures,
  recordDiscard,
  recordDiscards,
  recordHarvest,
  recordMark,
  updateCulture,
} from '@/lib/features/culture/mutations'
import { loadDemandGround } from '@/lib/features/food-demand/data'
import {
  countSincePlan,
  loadFoodPlanGround,
  loadFoodPlans,
  loadFoodTasks,
  requireFoodPlan,
} from '@/lib/features/food-plan/data'
import {
  createFoodPlan,
  createFoodReplan,
  recordFoodPlanAnswer,
  recordFoodPlanBegun,
  recordFoodPlanProgress,
} from '@/lib/features/food-plan/mutations'
import { loadFoodRoom } from '@/lib/features/food-room/data'
import {
  archiveMouth,
  createMouth,
  recordClosedDay,
  updateFoodLimits,
} from '@/lib/features/food-room/mutations'
import { loadShortFood } from '@/lib/features/food-shortage/data'
import { listPreyLines, requirePreyLine, requireStoredLine } from '@/lib/features/prey/data'
import {
  createPreyLine,
  createPreyOrder,
  recordPreyCount,
  recordPreyDeparture,
  updateAnyPreyFigure,
  updateKept,
  updateOrderDays,
  updatePreyFigure,
  updatePreyOrder,
} from '@/lib/features/prey/mutations'
import type { Calls } from './call'

const ON = '2026-03-20'

/** Live food: lines, jars, orders, what is planned with them. */
export const FOOD_READS: Calls = {
  'prey/data listPreyLines': (tx, { workspace }) => listPreyLines(tx, workspace.workspaceId),
  'prey/data requirePreyLine': (tx, { workspace }, id) =>
    requirePreyLine(tx, workspace.workspaceId, id.preyLine),
  'food-room/data loadFoodRoom': (tx, { workspace }) =>
    loadFoodRoom(tx, workspace.workspaceId, { today: ON }),
  'food-plan/data loadFoodPlanGround': (tx, { workspace }) => loadFoodPlanGround(tx, workspace, { weeks: 2 }),
  'food-plan/data countSincePlan': (tx, { workspace }, id) =>
    countSincePlan(tx, workspace.workspaceId, id.foodPlan),
  'food-plan/data loadFoodPlans': (tx, { workspace }) => loadFoodPlans(tx, workspace),
  'food-plan/data requireFoodPlan': (tx, { workspace }, id) =>
    requireFoodPlan(tx, workspace.workspaceId, id.foodPlan),
  'food-shortage/data loadShortFood': (tx, { workspace }) => loadShortFood(tx, workspace.workspaceId, ON),
  'food-plan/data loadFoodTasks': (tx, { workspace }) => loadFoodTasks(tx, workspace),
  'food-demand/data loadDemandGround': (tx, { workspace }) => loadDemandGround(tx, workspace, { weeks: 2 }),
  'culture/data listCultures': (tx, { workspace }, id) =>
    listCultures(tx, workspace.workspaceId, { line: id.preyLine, state: 'standing' }),
  'culture/data requireCulture': (tx, { workspace }, id) =>
    requireCulture(tx, workspace.workspaceId, id.culture),
  'culture/data listRecentCultures': (tx, { workspace }) => listRecentCultures(tx, workspace),
  'culture/data loadShelf': (tx, { workspace }) => loadShelf(tx, workspace, { days: 30 }),
}

export const FOOD_WRITES: Calls = {
  'food-plan/mutations createFoodPlan': (tx, actor) => createFoodPlan(tx, actor, { weeks: 4, hatch: '' }),
  'food-plan/mutations createFoodReplan': (tx, { workspace }) => createFoodReplan(tx, workspace),
  'food-plan/mutations recordFoodPlanBegun': (tx, { workspace }, id) =>
    recordFoodPlanBegun(tx, workspace.workspaceId, id.foodPlan),
  'food-plan/mutations recordFoodPlanProgress': (tx, { workspace }, id) =>
    recordFoodPlanProgress(tx, workspace.workspaceId, { id: id.foodPlan, progress: 0.5 }),
  'food-plan/mutations recordFoodPlanAnswer': (tx, { workspace }, id) =>
    recordFoodPlanAnswer(tx, workspace.workspaceId, { id: id.foodPlan, answer: null, failure: 'none' }),
  'food-room/mutations createMouth': (tx, { workspace }, id) =>
    createMouth(tx, workspace.workspaceId, {
      name: 'Frogs',
      line: id.preyLine,
      itemsEachTime: 40,
      weekdays: [false, true, false, false, true, false, false],
    }),
  'food-room/mutations archiveMouth': (tx, { workspace }, id) =>
    archiveMouth(tx, workspace.workspaceId, { mouth: id.otherMouth, version: 1 }),
  'food-room/mutations updateFoodLimits': (tx, { workspace }) =>
    updateFoodLimits(tx, workspace.workspaceId, {
      version: 1,
      shelfPlaces: 10,
      startWeekdays: [false, false, false, false, false, true, false],
      servicePercent: 95,
    }),
  'food-room/mutations recordClosedDay': (tx, { workspace }) =>
    recordClosedDay(tx, workspace, { side: 'room', on: workspace.today, isClosed: true, note: '' }),

  'prey/data requireStoredLine': (tx, { workspace }, id) =>
    requireStoredLine(tx, workspace.workspaceId, id.preyLine),
  'prey/mutations createPreyLine': (tx, { workspace }, id) =>
    createPreyLine(tx, workspace.workspaceId, { name: 'Small fly', like: id.preyLine }),
  'prey/mutations updateAnyPreyFigure': (tx, { workspace }, id) =>
    updateAnyPreyFigure(tx, workspace.workspaceId, {
      line: id.preyLine,
      version: 1,
      path: 'supply.starters',
      value: 44,
      note: '',
    }),
  'prey/mutations updatePreyFigure': (tx, { workspace }, id) =>
    updatePreyFigure(tx, workspace.workspaceId, {
      line: id.preyLine,
      version: 1,
      path: 'supply.yield.mean',
      value: 480,
      note: '',
    }),
  'prey/mutations updateOrderDays': (tx, { workspace }, id) =>
    updateOrderDays(tx, workspace.workspaceId, {
      line: id.preyLine,
      version: 1,
      weekdays: [true, false, false, false, false, false, false],
      note: '',
    }),
  'prey/mutations updateKept': (tx, { workspace }, id) =>
    updateKept(tx, workspace.workspaceId, { line: id.preyLine, version: 1, kept: false }),
  'prey/mutations createPreyOrder': (tx, actor, id) =>
    createPreyOrder(tx, actor, { line: id.preyLine, packs: 1, orderedOn: ON }),
  'prey/mutations updatePreyOrder': (tx, { workspace }, id) =>
    updatePreyOrder(tx, workspace, { order: id.preyOrder, version: 1, as: 'arrived', on: ON }),
  'prey/mutations recordPreyCount': (tx, actor, id) =>
    recordPreyCount(tx, actor, { line: id.preyLine, on: ON, count: 12 }),
  'prey/mutations recordPreyDeparture': (tx, { workspace }, id) =>
    recordPreyDeparture(tx, workspace, { line: id.preyLine, on: ON, count: 2, how: 'wasted' }),
  'culture/mutations createCultures': (tx, actor, id) =>
    createCultures(tx, actor, {
      line: id.preyLine,
      startedOn: ON,
      count: 2,
      shelf: '',
      notes: '',
      zone: id.zone,
      startersFrom: id.culture,
      bought: false,
    }),
  'culture/mutations recordHarvest': (tx, actor, id) =>
    recordHarvest(tx, actor, { culture: id.culture, on: ON, count: 50, measure: 'counted' }),
  'culture/mutations archiveHarvest': (tx, { workspace }, id) =>
    archiveHarvest(tx, workspace, { harvest: id.harvest, version: 1 }),
  'culture/mutations recordDiscards': (tx, { workspace }, id) =>
    recordDiscards(tx, workspace, { cultures: [id.culture] }),
  'culture/mutations recordDiscard': (tx, { workspace }, id) =>
    recordDiscard(tx, workspace, { culture: id.culture, on: ON, as: 'sold' }),
  'culture/mutations recordMark': (tx, { workspace }, id) =>
    recordMark(tx, workspace, { culture: id.culture, mark: 'mites', on: ON, isTakenBack: false }),
  'culture/mutations updateCulture': (tx, actor, id) =>
    updateCulture(tx, actor, { culture: id.culture, version: 1, zone: id.zone, shelf: 'top', notes: '' }),
}
