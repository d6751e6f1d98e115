import { printTable } from '../support/print-table'
import { foresightPolicy, planPolicy } from '../support/season-plan'
import { playSeason, type SeasonPolicy, type SeasonResult } from '../support/season-play'
import {
  drawSeason,
  ROOM_KINDS,
  type RoomKind,
  YIELD_REGIMES,
  type YieldRegime,
} from '../support/season-room'
import { TUNED_RULES } from '../support/season-rules'
import { TUNED_NUMBERS } from '../support/season-tuned'
import { sumUp, tuneRule } from '../support/season-tuning'

/**
 * The live-food plan in a closed loop against rules that people start cultures by, each tuned on other seasons, and
 * against knowing the future. All of them meet the same hatches and, culture for culture, the same yields.
 * Score of a season: missed animal-meals in % + 2 × wasted items per item eaten as first choice.
 * SEASONS=50 plays as many a cell as a judgement takes, MASTER other ones than usual, TUNE=yes tunes the rules anew.
 */
const SEASONS = Number(process.env.SEASONS ?? 6)
const MASTER = process.env.MASTER ?? 'november'
const isTuning = process.env.TUNE === 'yes'

type Cell = { kind: RoomKind; regime: YieldRegime }
type CellResults = { cell: Cell; results: Map<string, SeasonResult[]> }
const CELLS: Cell[] = ROOM_KINDS.flatMap((kind) => YIELD_REGIMES.map((regime) => ({ kind, regime })))
const PLAN = 'plan'
const BASE_STOCK = 'base stock'
const PROPORTIONAL = 'proportional'

function listPolicies(cell: Cell): { name: string; policy: SeasonPolicy }[] {
  const rules = TUNED_RULES.map((rule) => {
    const stored = TUNED_NUMBERS[rule.name]?.[`${cell.kind}/${cell.regime}`]
    const numbers = isTuning || !stored ? tuneRule(rule, cell) : stored
    if (isTuning)
      process.stdout.write(`${rule.name} ${cell.kind}/${cell.regime}: ${JSON.stringify(numbers)}\n`)
    return { name: rule.name, policy: rule.policy(numbers) }
  })
  return [
    { name: PLAN, policy: planPolicy },
    ...rules,
    { name: 'perfect foresight', policy: foresightPolicy },
  ]
}

function playCell(cell: Cell): CellResults {
  const policies = listPolicies(cell)
  const results = new Map<string, SeasonResult[]>(policies.map(({ name }) => [name, []]))
  for (let number = 0; number < SEASONS; number += 1) {
    const season = drawSeason(`${MASTER}/${number}`, cell.kind, cell.regime)
    for (const { name, policy } of policies) results.get(name)!.push(playSeason(season, policy))
  }
  return { cell, results }
}

const missedPercent = ({ missed, needed }: SeasonResult) => (100 * missed) / needed
const wastedShare = ({ wasted, eaten }: SeasonResult) => wasted / eaten
const score = (result: SeasonResult) => result.score

function printCell({ cell, results }: CellResults): void {
  printTable(
    `${cell.kind}, yields ${cell.regime}, ${SEASONS} seasons`,
    ['policy', 'score', 'missed %', 'wasted per eaten', 'starts'],
    [...results].map(([name, played]) => [
      name,
      sumUp(played, score).toFixed(2),
      sumUp(played, missedPercent).toFixed(2),
      sumUp(played, wastedShare).toFixed(3),
      sumUp(played, ({ starts }) => starts).toFixed(0),
    ]),
  )
}

/** Means over cells of the plan's figure against another's. */
function ratio(cells: readonly CellResults[], other: string, of: (result: SeasonResult) => number): number {
  const total = (name: string) => cells.reduce((sum, { results }) => sum + sumUp(results.get(name)!, of), 0)
  return total(PLAN) / total(other)
}

/** Share of seasons in which the plan both misses and wastes more. */
function worseOnBoth(cells: readonly CellResults[], other: string): number {
  const pairs = cells.flatMap(({ results }) =>
    results.get(PLAN)!.map((own, season) => [own, results.get(other)![season]!] as const),
  )
  const worse = pairs.filter(
    ([own, theirs]) =>
      missedPercent(own) > missedPercent(theirs) + 1e-6 && wastedShare(own) > wastedShare(theirs) + 1e-6,
  )
  return worse.length / pairs.length
}

function judge(cells: readonly CellResults[]): void {
  const worstCell = Math.max(...cells.map((cell) => ratio([cell], BASE_STOCK, score)))
  const figures: [what: string, figure: number, floor: number][] = [
    ['score against base stock', ratio(cells, BASE_STOCK, score), 0.8],
    ['score against base stock, worst cell', worstCell, 1.1],
    ['missed against base stock', ratio(cells, BASE_STOCK, missedPercent), 0.95],
    ['wasted against base stock', ratio(cells, BASE_STOCK, wastedShare), 0.95],
    ['worse on both than base stock', worseOnBoth(cells, BASE_STOCK), 0.1],
    ['missed against proportional', ratio(cells, PROPORTIONAL, missedPercent), 0.4],
    ['starts against proportional', ratio(cells, PROPORTIONAL, ({ starts }) => starts), 1],
    ['worse on both than proportional', worseOnBoth(cells, PROPORTIONAL), 0],
  ]
  printTable(
    `The plan over all ${cells.length} cells, paired season by season`,
    ['what', 'figure', 'at most', ''],
    figures.map(([what, figure, floor]) => [
      what,
      figure.toFixed(3),
      floor.toFixed(2),
      figure <= floor + 1e-9 ? 'holds' : 'MISSED',
    ]),
  )
  const others = [...cells[0]!.results.keys()].filter((name) => name !== PLAN)
  printTable(
    'Score of the plan against each',
    ['policy', 'ratio'],
    others.map((name) => [name, ratio(cells, name, score).toFixed(3)]),
  )
}

export async function run(): Promise<void> {
  const cells: CellResults[] = []
  for (const cell of CELLS) {
    const played = playCell(cell)
    printCell(played)
    cells.push(played)
  }
  judge(cells)
}
