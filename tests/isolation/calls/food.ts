import { listCultures, loadShelf, requireCulture } from '@/lib/features/culture/data'
import {
  archiveHarvest,
  createCultures,
  recordDiscard,
  recordHarvest,
  recordMark,
  updateCulture,
} from '@/lib/features/culture/mutations'
import {
  listPreyLines,
  listPreyOrders,
  loadPreyStock,
  requirePreyLine,
  requireStoredLine,
} from '@/lib/features/prey/data'
import {
  createPreyLine,
  createPreyOrder,
  recordPreyCount,
  recordPreyDeparture,
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
  'prey/data listPreyOrders': (tx, { workspace }) =>
    listPreyOrders(tx, workspace.workspaceId, { since: '2026-01-01' }),
  'prey/data loadPreyStock': async (tx, { workspace }) =>
    loadPreyStock(tx, workspace.workspaceId, {
      lines: await listPreyLines(tx, workspace.workspaceId),
      today: ON,
    }),
  'culture/data listCultures': (tx, { workspace }, id) =>
    listCultures(tx, workspace.workspaceId, { line: id.preyLine, state: 'standing' }),
  'culture/data requireCulture': (tx, { workspace }, id) =>
    requireCulture(tx, workspace.workspaceId, id.culture),
  'culture/data loadShelf': (tx, { workspace }) => loadShelf(tx, workspace, { days: 30 }),
}

export const FOOD_WRITES: Calls = {
  'prey/data requireStoredLine': (tx, { workspace }, id) =>
    requireStoredLine(tx, workspace.workspaceId, id.preyLine),
  'prey/mutations createPreyLine': (tx, { workspace }, id) =>
    createPreyLine(tx, workspace.workspaceId, { name: 'Small fly', like: id.preyLine }),
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
  'culture/mutations recordDiscard': (tx, { workspace }, id) =>
    recordDiscard(tx, workspace, { culture: id.culture, on: ON, as: 'sold' }),
  'culture/mutations recordMark': (tx, { workspace }, id) =>
    recordMark(tx, workspace, { culture: id.culture, mark: 'mites', on: ON, isTakenBack: false }),
  'culture/mutations updateCulture': (tx, { workspace }, id) =>
    updateCulture(tx, workspace, { culture: id.culture, version: 1, zone: id.zone, shelf: 'top', notes: '' }),
}
