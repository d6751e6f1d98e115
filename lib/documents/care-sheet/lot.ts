import { maxDate, minDate, type PlainDate } from '@/lib/domain/calendar/date'
import type { CareSheetPayload, SheetCalendarDay, SheetMoult, SheetWindow } from './payload'

/**
 * One sheet for several animals of one species, from the sheets of each: prey for the smallest, room for the largest,
 * every window that any of them has. What they do not share is left out. O(animals × calendar days).
 */
export function lotPayload(sheets: readonly CareSheetPayload[]): CareSheetPayload {
  const bySize = [...sheets].sort((a, b) => lengthOf(a) - lengthOf(b))
  const [smallest, largest] = [bySize[0], bySize.at(-1)]
  if (!smallest || !largest) throw new RangeError('a sheet for several animals needs at least one')
  const { animal, climate } = smallest
  return {
    ...smallest,
    animal: {
      labelCode: animal.labelCode,
      sex: animal.sex,
      certainty: animal.certainty,
      stage: animal.stage,
      bodyLengthMm: animal.bodyLengthMm,
      hatchedOn: shared(sheets, (sheet) => sheet.animal.hatchedOn),
      lastMoultOn: shared(sheets, (sheet) => sheet.animal.lastMoultOn),
      mated: matedOf(sheets),
      injuries: injuriesOf(sheets),
      note: animal.note,
    },
    lot: sheets.map(({ animal: { labelCode, sex, certainty, stage } }) => ({
      labelCode,
      sex,
      certainty,
      stage,
    })),
    timeline: null,
    moult: moultOf(sheets),
    moultsToCome: windowsOf(sheets),
    calendar: calendarOf(smallest, sheets),
    home: largest.home,
    climate: climate && {
      ...climate,
      adultLifeWeeks:
        new Set(sheets.map(({ animal: { sex } }) => sex)).size === 1 ? climate.adultLifeWeeks : null,
    },
  }
}

function lengthOf({ animal }: CareSheetPayload): number {
  return animal.bodyLengthMm ?? 0
}

/** A value that all have; null where one differs. */
function shared<T>(sheets: readonly CareSheetPayload[], read: (sheet: CareSheetPayload) => T): T | null {
  const values = new Set(sheets.map(read))
  const [value] = values
  return values.size === 1 && value !== undefined ? value : null
}

function matedOf(sheets: readonly CareSheetPayload[]): CareSheetPayload['animal']['mated'] {
  const asked = sheets.filter(({ animal }) => animal.mated)
  return asked.length === 0 ? null : shared(asked, ({ animal }) => animal.mated)
}

/** Whose injury it is stands before it. */
function injuriesOf(sheets: readonly CareSheetPayload[]): string | null {
  const told = sheets.flatMap(({ animal }) =>
    animal.injuries ? `${animal.labelCode}: ${animal.injuries}` : [],
  )
  return told.length > 0 ? told.join('; ') : null
}

function moultOf(sheets: readonly CareSheetPayload[]): SheetMoult {
  const moults = sheets.flatMap(({ moult }) => moult ?? [])
  return {
    fromOn: earliest(moults.map(({ fromOn }) => fromOn)),
    toOn: latest(moults.map(({ toOn }) => toOn)),
    leaveAloneUntilOn: latest(moults.map(({ leaveAloneUntilOn }) => leaveAloneUntilOn)),
    softUntilOn: latest(moults.map(({ softUntilOn }) => softUntilOn)),
  }
}

/** The first moults of all of them, then the second ones, and so on: later windows stay wider. */
function windowsOf(sheets: readonly CareSheetPayload[]): SheetWindow[] {
  const most = Math.max(0, ...sheets.map(({ moultsToCome }) => moultsToCome?.length ?? 0))
  return Array.from({ length: most }, (_, nth) => {
    const windows = sheets.flatMap(({ moultsToCome }) => moultsToCome?.[nth] ?? [])
    const fromOn = earliest(windows.map((window) => window.fromOn)) ?? ''
    return { fromOn, toOn: latest(windows.map((window) => window.toOn)) ?? fromOn }
  })
}

/** Feeding days are the smallest one's, since it eats most often; never on a day when another may moult. */
function calendarOf(
  smallest: CareSheetPayload,
  sheets: readonly CareSheetPayload[],
): SheetCalendarDay[] | null {
  const moulting = new Set(
    sheets.flatMap(({ calendar }) =>
      (calendar ?? []).filter(({ kind }) => kind === 'moult').map(({ on }) => on),
    ),
  )
  return (
    smallest.calendar?.map(
      (day): SheetCalendarDay => (moulting.has(day.on) ? { ...day, kind: 'moult' } : day),
    ) ?? null
  )
}

type Days = (PlainDate | null | undefined)[]

function earliest(days: Days): PlainDate | null {
  const known = days.filter((day): day is PlainDate => Boolean(day))
  return known.length === 0 ? null : known.reduce(minDate)
}

function latest(days: Days): PlainDate | null {
  const known = days.filter((day): day is PlainDate => Boolean(day))
  return known.length === 0 ? null : known.reduce(maxDate)
}
