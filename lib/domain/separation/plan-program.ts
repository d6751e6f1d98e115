import { type Entry, type LinearProgram, type ProgramBuilder, programBuilder } from '../program/linear'
import { isProportional, lossOfDays, lossTangents } from './plan-hazard'
import type { CountedRoom } from './plan-room'

/**
 * The plan as a linear program.
 *
 * Per clutch and evening: x parted, r left after it, l lost by the next evening.
 *
 *   minimise  Σ l + tail(r_last)
 *   r₀ + x₀ = together                      r_t − r_(t−1) + l_(t−1) + x_t = 0
 *   l_t ≥ tangents of L_t at r_t            (l_t = λ_t r_t, put in directly, where λ does not depend on n)
 *   Σ minutes(x_t) + feeding_t × cups filled before t ≤ minutes_t
 *   cups of a kind filled up to t ≤ stock_t
 *
 * A clutch's set-up on an evening is a fixed cost and enters as a charge per animal: shared by as many as could
 * be parted that evening (a bound from below on the true loss), or by as many as the last answer parted, which
 * over a few rounds draws the plan together on few evenings per clutch. Lateness has no price of its own: it
 * is in the hazard. Size: about 2–3 columns and up to 8 rows per clutch and evening.
 */
export type PlanProgram = {
  program: LinearProgram
  /** Column of x by clutch and day, −1 where nobody can be parted. */
  movedColumns: number[][]
  /** Row of the minutes of a day. */
  minuteRows: number[]
  /** Column of the cups filled up to a day, by kind. */
  filledColumns: number[][]
}

/** Minutes charged per animal parted, by clutch and day; 'whole' for set-ups as yes or no, in whole numbers. */
export type Charges = number[][] | 'whole'

type Draft = { builder: ProgramBuilder; counted: CountedRoom; movedColumns: number[][] }

export function planProgram(counted: CountedRoom, charges: Charges): PlanProgram {
  const builder = programBuilder()
  const movedColumns = counted.isOpen.map((days, clutch) =>
    days.map((_, day) =>
      largestBatch(counted, clutch, day) > 0 ? builder.addColumn({ isWhole: charges === 'whole' }) : -1,
    ),
  )
  const draft = { builder, counted, movedColumns }
  for (let clutch = 0; clutch < movedColumns.length; clutch += 1) addClutch(draft, clutch)
  const filledColumns = addCups(draft)
  const minuteRows = addMinutes(draft, charges)
  return { program: builder.build(), movedColumns, minuteRows, filledColumns }
}

/** The most of a clutch that hands and animals allow on one evening. */
export function largestBatch(counted: CountedRoom, clutch: number, day: number): number {
  if (!counted.isOpen[clutch]![day] || counted.kinds[clutch]!.length === 0) return 0
  const byHands = Math.floor(
    (counted.minutes[day]! - counted.minutesPerClutch) / counted.minutesPerNymph + 1e-9,
  )
  return Math.max(0, Math.min(counted.room.clutches[clutch]!.together, byHands))
}

/** Set-ups shared by the largest batch there could be: no plan in whole evenings is charged less. */
export function leastCharges(counted: CountedRoom): number[][] {
  return counted.isOpen.map((days, clutch) =>
    days.map((_, day) => {
      const batch = largestBatch(counted, clutch, day)
      return counted.minutesPerNymph + (batch > 0 ? counted.minutesPerClutch / batch : 0)
    }),
  )
}

/** Set-ups shared by what the last answer parted; unchanged where it parted nobody. */
export function nextCharges(counted: CountedRoom, last: number[][], parted: number[][]): number[][] {
  return last.map((days, clutch) =>
    days.map((charge, day) => {
      const count = parted[clutch]![day]!
      return count < 0.5 ? charge : counted.minutesPerNymph + counted.minutesPerClutch / Math.max(1, count)
    }),
  )
}

/** Animals parted by clutch and day, fractions and all. */
export function readMoved(plan: PlanProgram, values: Float64Array): number[][] {
  return plan.movedColumns.map((days) =>
    days.map((column) => (column < 0 ? 0 : Math.max(0, values[column]!))),
  )
}

function addClutch(draft: Draft, clutch: number): void {
  const { builder, counted, movedColumns } = draft
  const { together } = counted.room.clutches[clutch]!
  if (together < 2) return
  let there: Entry[] = []
  for (let day = 0; day < counted.dayCount; day += 1) {
    const left = builder.addColumn()
    const balance: Entry[] = [[left, 1], ...there.map(([column, value]): Entry => [column, -value])]
    if (movedColumns[clutch]![day]! >= 0) balance.push([movedColumns[clutch]![day]!, 1])
    const present = day === 0 ? together : 0
    builder.addRow(balance, { lower: present, upper: present })
    there = addLoss(draft, { clutch, left, span: { from: day, days: 1 } })
  }
  if (counted.dayCount > 0) addTail(draft, clutch, there)
}

/**
 * Charges the loss of those left over a span of days; returns what is there afterwards as a sum of columns. A
 * straight loss needs no column of its own.
 */
function addLoss(
  draft: Draft,
  at: { clutch: number; left: number; span: { from: number; days: number } },
): Entry[] {
  const { builder, counted } = draft
  const { hazard, together } = counted.room.clutches[at.clutch]!
  if (isProportional(hazard, at.span, together)) {
    const share = lossOfDays(hazard, at.span, 1).slope
    builder.addCost(at.left, share)
    return [[at.left, 1 - share]]
  }
  const lost = builder.addColumn({ cost: 1 })
  for (const { slope, offset } of lossTangents(hazard, at.span, together))
    builder.addRow(
      [
        [lost, 1],
        [at.left, -slope],
      ],
      { lower: offset },
    )
  return [
    [at.left, 1],
    [lost, -1],
  ]
}

/** The tail is charged to those who are there on the morning after the last day. */
function addTail(draft: Draft, clutch: number, there: Entry[]): void {
  const { builder, counted } = draft
  if (counted.room.tailDays === 0) return
  const left = builder.addColumn()
  builder.addRow([[left, 1], ...there.map(([column, value]): Entry => [column, -value])], {
    lower: 0,
    upper: 0,
  })
  addLoss(draft, { clutch, left, span: { from: counted.dayCount, days: counted.room.tailDays } })
}

function addMinutes(draft: Draft, charges: Charges): number[] {
  const { builder, counted } = draft
  let filledBefore = -1
  return counted.minutes.map((minutes, day) => {
    const parted = draft.movedColumns.map((days) => days[day]!).filter((column) => column >= 0)
    const work = workEntries(draft, charges, day)
    if (filledBefore >= 0) work.push([filledBefore, counted.feedingMinutes[day]!])
    const row = builder.addRow(work, { upper: minutes })
    const filled = builder.addColumn()
    const sum: Entry[] = [[filled, 1], ...parted.map((column): Entry => [column, -1])]
    if (filledBefore >= 0) sum.push([filledBefore, -1])
    builder.addRow(sum, { lower: 0, upper: 0 })
    filledBefore = filled
    return row
  })
}

function workEntries(draft: Draft, charges: Charges, day: number): Entry[] {
  const { builder, counted, movedColumns } = draft
  return movedColumns.flatMap((days, clutch): Entry[] => {
    const column = days[day]!
    if (column < 0) return []
    if (charges !== 'whole') return [[column, charges[clutch]![day]!]]
    const isTakenUp = builder.addColumn({ upper: 1, isWhole: true })
    const batch = largestBatch(counted, clutch, day)
    builder.addRow(
      [
        [column, 1],
        [isTakenUp, -batch],
      ],
      { upper: 0 },
    )
    return [
      [column, counted.minutesPerNymph],
      [isTakenUp, counted.minutesPerClutch],
    ]
  })
}

/** Clutches that the same kinds fit share their columns: who gets which cup is decided afterwards. */
function addCups(draft: Draft): number[][] {
  const { builder, counted, movedColumns } = draft
  const groups = new Map<string, number[]>()
  counted.kinds.forEach((kinds, clutch) => {
    if (kinds.length > 0) groups.set(kinds.join(), [...(groups.get(kinds.join()) ?? []), clutch])
  })
  const filled = counted.stock.map((stock) => stock.map((count) => builder.addColumn({ upper: count })))
  for (let day = 0; day < counted.dayCount; day += 1) {
    const intoKind = counted.stock.map((_, kind): Entry[] => [
      [filled[kind]![day]!, 1],
      ...(day > 0 ? [[filled[kind]![day - 1]!, -1] as const] : []),
    ])
    for (const clutches of groups.values()) {
      const parted = clutches.map((clutch) => movedColumns[clutch]![day]!).filter((column) => column >= 0)
      if (parted.length === 0) continue
      const shares = counted.kinds[clutches[0]!]!.map((kind) => ({ kind, column: builder.addColumn() }))
      for (const { kind, column } of shares) intoKind[kind]!.push([column, -1])
      builder.addRow(
        [...parted.map((column): Entry => [column, 1]), ...shares.map(({ column }): Entry => [column, -1])],
        { lower: 0, upper: 0 },
      )
    }
    for (const entries of intoKind) builder.addRow(entries, { lower: 0, upper: 0 })
  }
  return filled
}
