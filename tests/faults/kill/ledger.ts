import type pg from 'pg'
import { askWith, listTroubles } from '@/tests/support/bookkeeping'
import type { Answer, Kind, Line } from './till'

/** What was done by all the tills together, as figures that the tables can be asked for. */
export type Figures = {
  eggCases: string[]
  hatches: string[]
  separations: string[]
  individuals: string[]
  moults: string[]
  sales: string[]
  reversed: string[]
  looks: number
  hatched: number
  together: number
  single: number
  sold: number
  dead: number
}

// biome-ignore lint/suspicious/noExplicitAny: an answer is read by the kind of request that knows its shape
type Body = any
const idsOf = (list: { id: string }[]) => list.map(({ id }) => id)
const sum = (numbers: number[]) => numbers.reduce((total, each) => total + each, 0)

/** What the tables have to hold when these, and only these, were done. */
export function addUp(done: Line[]): Figures {
  const answers = (kind: Kind): Body[] =>
    done.filter(({ asked }) => asked.kind === kind).map(({ answer }) => answer?.body)
  const hatches = answers('hatch').map(({ hatch }) => hatch)
  const separations = answers('separation')
  const individuals = separations.flatMap((body) => idsOf(body.individuals))
  const lost = sum(done.filter(({ asked }) => asked.kind === 'loss').map(({ asked }) => asked.body.count))
  const hatched = sum(hatches.map(({ count }) => count))
  const died = answers('death').length
  const sold = answers('sale').length - answers('reversal').length
  return {
    eggCases: idsOf(answers('eggCase')).sort(),
    hatches: idsOf(hatches).sort(),
    separations: separations.map(({ separation }) => separation).sort(),
    individuals: individuals.sort(),
    moults: idsOf(answers('moult').map(({ moult }) => moult)).sort(),
    sales: idsOf(answers('sale')).sort(),
    reversed: idsOf(answers('reversal')).sort(),
    looks: new Set(
      done.filter(({ asked }) => asked.kind === 'look').map(({ asked }) => JSON.stringify(asked.body)),
    ).size,
    hatched,
    together: hatched - individuals.length - lost,
    single: individuals.length - sold - died,
    sold,
    dead: lost + died,
  }
}

const ids = (table: string, column = 'id') => `array(select ${column}::text from ${table} order by 1)`

/** The same from the tables, by whoever may read everything. */
export async function readFigures(client: pg.Client): Promise<Figures> {
  const total = (state: string) => `(select coalesce(sum(${state}), 0)::int from head_count) as ${state}`
  const { rows } = await client.query(`select
    ${ids('egg_case')} as "eggCases", ${ids('hatch')} as hatches, ${ids('separation')} as separations,
    ${ids('individual')} as individuals, ${ids('moult')} as moults, ${ids('sale')} as sales,
    ${ids('sale_reversal', 'sale_id')} as reversed, (select count(*)::int from look) as looks,
    ${['hatched', 'together', 'single', 'sold', 'dead'].map(total).join(', ')}`)
  return rows[0]
}

/** The answers kept with the keys, by key: each was written together with its effect. */
export async function readKeptAnswers(client: pg.Client): Promise<Map<string, Answer>> {
  const { rows } = await client.query<{ id: string; answer: unknown }>(
    `select id, answer from operation where id like 'api:%'`,
  )
  return new Map(rows.map(({ id, answer }) => [id.split(':')[2] ?? '', { status: 201, body: answer }]))
}

/** What of the books does not add up; nothing when all of it does. */
export const listBookTroubles = (client: pg.Client) => listTroubles(askWith(client))
