import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { seededStream } from '@/lib/domain/random/seeded'
import { disconnectAuth } from '@/lib/platform/auth-database'
import { disconnect } from '@/lib/platform/db'
import { makeRack, type Rack } from '@/tests/support/rack'
import { makeDataFolder, removeDataFolder } from '@/tests/support/up'
import { makeToken } from '@/tests/support/workspaces'
import {
  comeBack,
  type House,
  kill,
  LISTED_VICTIMS,
  open,
  settingsOf,
  type Victim,
  withSettledDatabase,
} from './kill/house'
import { addUp, listBookTroubles, readFigures, readKeptAnswers } from './kill/ledger'
import { type Known, knowNothing, type Line, learn, send, type Till, work } from './kill/till'

const SEED = process.env.TEST_SEED ?? '1'
const CYCLES = process.env.TEST_LONG ? 50 : 3
const TILLS = 6
const stream = seededStream(`kill ${SEED}`)
const house: House = { dataFolder: makeDataFolder(), ups: [] }

let rack: Rack
let tokens: string[]
const known: Known = knowNothing()
/** Everything that was confirmed since the beginning. */
const done: Line[] = []

beforeAll(async () => {
  await open(house)
  Object.assign(process.env, settingsOf(house))
  rack = await makeRack('Power cut', 20_000)
  tokens = []
  for (let till = 0; till < TILLS; till++) tokens.push(await makeToken(rack.owner, 'owner'))
  await disconnect()
  await disconnectAuth()
})
afterAll(() => removeDataFolder(house.dataFolder, house.ups))

/** In a short run the gravest, then others as the seed has them; in a long one each as often as any other. */
function drawVictims(): Victim[] {
  const [gravest, ...others] = [...LISTED_VICTIMS].reverse() as [Victim, ...Victim[]]
  const shuffled = stream.shuffle(others)
  const round = [gravest, ...shuffled]
  return Array.from({ length: CYCLES }, (_, cycle) => round[cycle % round.length] as Victim)
}

const tillsAt = (address: string, cycle: number): Till[] =>
  tokens.map((token, till) => ({
    rack,
    known,
    address,
    token,
    stream: stream.fork(`cycle ${cycle} till ${till}`),
  }))

const pause = (milliseconds: number) => new Promise((resolve) => setTimeout(resolve, milliseconds))

/** All tills at work until the victim is killed, after so many requests as the seed says. */
async function workUntilKilled(address: string, cycle: number, victim: Victim) {
  let isOver = false
  let asked = 0
  const enough = stream.integer(15, 45)
  const lines = tillsAt(address, cycle).map((till) =>
    work(till, () => {
      asked += 1
      return isOver
    }),
  )
  while (asked < enough) await pause(5)
  await pause(stream.integer(0, 60))
  const killedAt = new Date()
  await kill(house, victim)
  // Where only the jobs died nobody at a till notices: they go on, and stop for the night.
  setTimeout(() => {
    isOver = true
  }, 300)
  return { killedAt, lines: await Promise.all(lines) }
}

/** Each of those that nobody answered again, under the same key, until somebody says what became of it. */
async function askAgain(tills: Till[], unanswered: (Line & { till: number })[]): Promise<Line[]> {
  const settled: Line[] = []
  for (const { asked, till } of unanswered) {
    const first = await send(tills[till] as Till, asked)
    const second = await send(tills[till] as Till, asked)
    expect(first, `${asked.kind} after the restart`).not.toBeNull()
    expect(second?.status).toBe(first?.status)
    if (first?.status === 201) expect(second).toEqual(first)
    settled.push({ asked, answer: first })
  }
  return settled
}

async function runCycle(cycle: number, victim: Victim): Promise<number> {
  const before = house.ups.length
  const { killedAt, lines } = await workUntilKilled(await comeBack(house), cycle, victim)
  const numbered = lines.flatMap((each, till) => each.map((line) => ({ ...line, till })))
  const confirmed = numbered.filter(({ answer }) => answer?.status === 201)
  const unanswered = numbered.filter(({ answer }) => answer === null)
  done.push(...confirmed)
  const address = await comeBack(house)
  await withSettledDatabase(house, killedAt, async (client) => {
    const kept = await readKeptAnswers(client)
    const dropped = confirmed.filter(({ asked }) => !kept.has(asked.key))
    expect(dropped.map(({ asked }) => asked)).toEqual([])
    // Of what was not answered, what has its key is there whole, and of what has none there is nothing.
    const there = unanswered.flatMap(({ asked }) => {
      const answer = kept.get(asked.key)
      return answer ? [{ asked, answer }] : []
    })
    expect(await readFigures(client)).toEqual(addUp([...done, ...there]))
    expect(await listBookTroubles(client)).toEqual([])
  })
  const tills = tillsAt(address, cycle)
  const settled = await askAgain(tills, unanswered)
  for (const line of settled) learn(known, line)
  done.push(...settled.filter(({ answer }) => answer?.status === 201))
  for (const { asked, answer, till } of stream.shuffle(confirmed).slice(0, 5))
    expect(await send(tills[till] as Till, asked)).toEqual(answer)
  await withSettledDatabase(house, killedAt, async (client) => {
    expect(await readFigures(client)).toEqual(addUp(done))
    expect(await listBookTroubles(client)).toEqual([])
  })
  expect(house.ups.length - before).toBe(victim === 'everything' || victim === 'the service' ? 1 : 0)
  return unanswered.length
}

describe(`a house whose power goes while six tills are at work (seed ${SEED})`, () => {
  const victims = drawVictims()
  it.each(victims.map((victim, cycle) => ({ victim, cycle })))(
    'has everything that was confirmed, once and whole, when $victim was killed (round $cycle)',
    async ({ victim, cycle }) => {
      await runCycle(cycle, victim)
    },
  )

  it('had enough under way for that to mean something', () => {
    const kinds = new Set(done.map(({ asked }) => asked.kind))
    expect(done.length).toBeGreaterThan(CYCLES * 10)
    expect(kinds.size).toBeGreaterThan(6)
  })
})
