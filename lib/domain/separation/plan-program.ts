import { type Entry, type LinearProgram, type ProgramBuilder, programBuilder } from '../program/linear'
import { isProportional, lossOfDays, lossTangents, riskOfDay } from './plan-hazard'
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

/** Minutes charged per animal parted, by clutch and day. */
export type Charges = number[][]

type Draft = { builder: ProgramBuilder; counted: CountedRoom; movedColumns: number[][] }

export function planProgram(counted: CountedRoom, charges: Charges): PlanProgram {
  const builder = programBuilder()
  const movedColumns = counted.isOpen.map((days, clutch) =>
    days.map((_, day) => (largestBatch(counted, clutch, day) > 0 ? builder.addColumn() : -1)),
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
export function leastCharges(counted: CountedRoom): Charges {
  return counted.isOpen.map((days, clutch) =>
    days.map((_, day) => {
      const batch = largestBatch(counted, clutch, day)
      return counted.minutesPerNymph + (batch > 0 ? counted.minutesPerClutch / batch : 0)
    }),
  )
}

/** Set-ups shared by what the last answer parted; unchanged where it parted nobody. */
export function nextCharges(counted: CountedRoom, last: Charges, parted: number[][]): Charges {
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
  const { hazard, together } = counted.room.clutches[clutch]!
  if (together < 2) return
  const proportional = isProportional(hazard)
  const last = counted.dayCount - 1
  const afterLast = { from: counted.dayCount, days: counted.room.tailDays }
  let before: { left: number; lost: number; risk: number } | null = null
  for (let day = 0; day <= last; day += 1) {
    const risk = riskOfDay(hazard, day, 1)
    // The tail of one animal, if it is still there on the morning after the last day.
    const tail = day === last ? (1 - risk) * lossOfDays(hazard, afterLast, 1).slope : 0
    const left = builder.addColumn({ cost: proportional ? risk + tail : 0 })
    const balance: Entry[] = [[left, 1]]
    if (movedColumns[clutch]![day]! >= 0) balance.push([movedColumns[clutch]![day]!, 1])
    if (before) balance.push([before.left, before.risk - 1])
    if (before && before.lost >= 0) balance.push([before.lost, 1])
    builder.addRow(balance, { lower: before ? 0 : together, upper: before ? 0 : together })
    const lost = proportional ? -1 : addLoss(draft, { clutch, left, span: { from: day, days: 1 } })
    if (!proportional && day === last) addTail(draft, { clutch, left, lost })
    before = { left, lost, risk: proportional ? risk : 0 }
  }
}

/** A column that is at least the loss of those left, over a span. */
function addLoss(
  draft: Draft,
  at: { clutch: number; left: number; span: { from: number; days: number } },
): number {
  const { hazard, together } = draft.counted.room.clutches[at.clutch]!
  const lost = draft.builder.addColumn({ cost: 1 })
  for (const { slope, offset } of lossTangents(hazard, at.span, together))
    draft.builder.addRow(
      [
        [lost, 1],
        [at.left, -slope],
      ],
      { lower: offset },
    )
  return lost
}

/** The tail is charged to those who are there in the morning after: left − lost. */
function addTail(draft: Draft, at: { clutch: number; left: number; lost: number }): void {
  const { builder, counted } = draft
  if (counted.room.tailDays === 0) return
  const there = builder.addColumn()
  builder.addRow(
    [
      [there, 1],
      [at.left, -1],
      [at.lost, 1],
    ],
    { lower: 0, upper: 0 },
  )
  addLoss(draft, {
    clutch: at.clutch,
    left: there,
    span: { from: counted.dayCount, days: counted.room.tailDays },
  })
}

function addMinutes(draft: Draft, charges: Charges): number[] {
  const { builder, counted, movedColumns } = draft
  let filledBefore = -1
  return counted.minutes.map((minutes, day) => {
    const today = movedColumns.map((days, clutch) => ({ column: days[day]!, charge: charges[clutch]![day]! }))
    const open = today.filter(({ column }) => column >= 0)
    const work: Entry[] = open.map(({ column, charge }) => [column, charge])
    if (filledBefore >= 0) work.push([filledBefore, counted.feedingMinutes[day]!])
    const row = builder.addRow(work, { upper: minutes })
    const filled = builder.addColumn()
    const sum: Entry[] = [[filled, 1], ...open.map(({ column }): Entry => [column, -1])]
    if (filledBefore >= 0) sum.push([filledBefore, -1])
    builder.addRow(sum, { lower: 0, upper: 0 })
    filledBefore = filled
    return row
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
