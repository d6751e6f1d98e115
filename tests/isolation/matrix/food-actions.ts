import type { Permission } from '@/lib/domain/role/permissions'
import type { ActionRow } from './actions'

const ON = '2026-03-20'
const TOMORROW = new Date(Date.now() + 86_400_000).toISOString().slice(0, 10)

const rows = (guard: Permission, inputs: Record<string, ActionRow['input']>) =>
  Object.fromEntries(Object.entries(inputs).map(([name, input]) => [name, { guard, input }]))

/** What keeps the flies. */
export const FOOD_ACTIONS: Record<string, ActionRow> = {
  ...rows('live-food:write', {
    'prey/actions createPreyLineAction': (id) => ({ name: 'Tiny fly', like: id.preyLine }),
    'prey/actions updatePreyFigureAction': (id) => ({
      line: id.preyLine,
      version: 1,
      path: 'supply.yield.mean',
      value: 500,
    }),
    'prey/actions updateOrderDaysAction': (id) => ({
      line: id.preyLine,
      version: 9,
      weekdays: [true, false, false, true, false, false, false],
    }),
    'prey/actions updateKeptAction': (id) => ({ line: id.preyLine, version: 1, kept: true }),
    'prey/actions createPreyOrderAction': () => ({ line: 'house-fly', packs: 2, orderedOn: ON }),
    'prey/actions updatePreyOrderAction': (id) => ({ order: id.preyOrder, version: 1, as: 'arrived' }),
    'prey/actions recordPreyCountAction': (id) => ({ line: id.preyLine, on: ON, count: 30 }),
    'prey/actions recordPreyDepartureAction': (id) => ({ line: id.preyLine, on: ON, count: 3, how: 'sold' }),
    'food-plan/actions createFoodPlanAction': () => ({ weeks: 4 }),
    'food-room/actions createMouthAction': (id) => ({
      name: 'Frogs',
      line: id.preyLine,
      itemsEachTime: 40,
      weekdays: [false, true, false, false, true, false, false],
    }),
    'food-room/actions archiveMouthAction': (id) => ({ mouth: id.otherMouth, version: 1 }),
    'food-room/actions updateFoodLimitsAction': () => ({
      version: 1,
      shelfPlaces: 10,
      startWeekdays: [false, false, false, false, false, true, false],
      servicePercent: 95,
    }),
    'food-room/actions recordClosedDayAction': () => ({ side: 'room', on: TOMORROW }),
    'culture/actions createCulturesAction': (id) => ({
      line: id.preyLine,
      startedOn: ON,
      zone: id.zone,
      startersFrom: id.culture,
    }),
    'culture/actions recordHarvestAction': (id) => ({
      culture: id.culture,
      on: ON,
      measure: 'about',
      count: 70,
    }),
    'culture/actions archiveHarvestAction': (id) => ({ harvest: id.harvest, version: 1 }),
    'culture/actions recordMarkAction': (id) => ({ culture: id.culture, mark: 'mould', on: ON }),
    'culture/actions updateCultureAction': (id) => ({ culture: id.culture, version: 9, zone: id.zone }),
    'culture/actions recordDiscardsAction': (id) => ({ cultures: [id.culture] }),
    'culture/actions recordDiscardAction': (id) => ({ culture: id.culture, on: '2026-05-02' }),
  }),
}
