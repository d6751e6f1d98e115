import type { Permission } from '@/lib/domain/role/permissions'
import type { ActionRow } from './actions'

const ON = '2026-03-20'
const TOMORROW = new Date(Date.now() + 86_400_000).toISOString().slice(0, 10)

const guarded = (guard: Permission, inputs: Record<string, ActionRow['input']>) =>
  Object.fromEntries(Object.entries(inputs).map(([name, input]) => [name, { guard, input }]))

/** Trays and colonies, the calendar and the mail of the day. */
export const HOUSING_ACTIONS: Record<string, ActionRow> = {
  ...guarded('individual:write', {
    'tray/actions takeFromTrayAction': (id) => ({ tray: id.tray, count: 1, moults: '' }),
    'moult/actions recordTrayMoultsAction': (id) => ({ tray: id.tray, count: 1, on: ON }),
    'feeding/actions recordTrayFeedingAction': (id) => ({ tray: id.tray, on: ON, result: 'ate' }),
  }),
  ...guarded('clutch:write', {
    'separation-plan/actions updateBenchHoursAction': () => ({
      version: 1,
      minutesByWeekday: [60, 60, 60, 60, 60, 0, 0],
    }),
    'separation-plan/actions recordBenchDayAction': () => ({ on: TOMORROW, minutes: 0 }),
    'colony/actions createColonyAction': (id) => ({
      name: 'New cage',
      species: id.species,
      containerKind: id.boxKind,
      zone: id.zone,
      on: ON,
    }),
    'colony/actions recordColonyEntryAction': (id) => ({
      colony: id.colony,
      clutch: id.clutch,
      on: '2026-01-02',
      leastMoults: 2,
      mostMoults: 3,
    }),
    'colony/actions recordColonyCountAction': (id) => ({
      colony: id.colony,
      on: ON,
      rows: [{ moults: 3, male: 1, female: 2 }],
    }),
    'colony/actions recordColonyMoveAction': (id) => ({ colony: id.colony, zone: id.zone, on: ON }),
    'colony/actions archiveColonyAction': (id) => ({ colony: id.colony, version: 1, on: ON }),
  }),
  ...guarded('species:write', {
    'species/actions changeColonyRuleAction': (id) => ({
      speciesId: id.species,
      version: 2,
      allows: true,
      note: 'kept so for years',
    }),
  }),
  ...guarded('day-sheet:read', {
    'calendar-feed/actions createCalendarFeedAction': () => ({}),
    'calendar-feed/actions revokeCalendarFeedAction': () => ({}),
    'day-mail/actions recordDayMailAction': () => ({ version: 1, hour: '7' }),
    'day-mail/actions endDayMailAction': () => ({ version: 2 }),
  }),
}
