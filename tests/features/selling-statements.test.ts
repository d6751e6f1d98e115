import { beforeAll, describe, expect, test } from 'vitest'
import { createBuyer } from '@/lib/features/buyer/mutations'
import { loadWaiting } from '@/lib/features/reservation/loaders'
import { createReservation } from '@/lib/features/reservation/mutations'
import { loadCounter, loadReceipt } from '@/lib/features/sale/loaders'
import { createSale } from '@/lib/features/sale/mutations'
import { requireSpecies } from '@/lib/features/species/data'
import { createWish } from '@/lib/features/wish/mutations'
import type { Actor } from '@/lib/platform/workspace'
import { requireDatabase } from '@/tests/support/database'
import { watchStatements } from '@/tests/support/failing-statement'
import { makeNymphs, makeRack, type Nymph, type Rack } from '@/tests/support/rack'
import { animalLine, plainSale } from '@/tests/support/sale'
import { within } from '@/tests/support/workspaces'

requireDatabase()

/** A page asks no more than this besides the look-up and what opens its transaction. */
const MOST = 10

let rack: Rack
let nymphs: Nymph[]
const sales: string[] = []
beforeAll(async () => {
  rack = await makeRack('Statements', 400)
  const brood = { hatchedOn: rack.day(-40), partedOn: rack.day(-3), moults: 3, lastMoultOn: rack.day(-4) }
  nymphs = await makeNymphs(rack, { count: 120, ...brood })
  await as(async (tx, actor) => {
    const person = { email: '', phone: '', address: '', country: '', language: '' as const, note: '' }
    const more = { experience: 'beginner' as const, keepConsent: true, newsConsent: false }
    const { id: buyer } = await createBuyer(tx, actor.workspace, {
      name: 'Ada Quillfeather',
      ...person,
      ...more,
    })
    for (const count of [1, 50]) {
      const lines = nymphs.splice(0, count).map(({ id }) => animalLine(id, 900))
      const { value } = await createSale(tx, actor, plainSale(rack.today, lines, { buyer }))
      sales.push(value.id)
    }
    const held = nymphs.slice(0, 10).map(({ id }) => id)
    await createReservation(tx, actor, { buyer, individuals: held, until: rack.day(3) })
    const species = await requireSpecies(tx, actor.workspace.workspaceId, 'creobroter-spp')
    for (const count of [1, 2, 3])
      await createWish(tx, actor.workspace, { buyer, species: species.id, count, by: rack.day(20) })
  })
})

type Work<T> = (tx: Parameters<Parameters<typeof within>[1]>[0], actor: Actor) => Promise<T>

function as<T>(work: Work<T>): Promise<T> {
  return within(rack.owner, (tx, workspace) => work(tx, { scope: rack.owner, workspace }))
}

/** Without the one statement that enters the workspace. */
async function countOf(work: Work<unknown>): Promise<number> {
  const count = watchStatements()
  try {
    await as(work)
  } finally {
    count.stop()
  }
  return count.sent - 1
}

describe('statements of a page', () => {
  test('at the counter are few, and as many for one cup as for fifty', async () => {
    const counts: number[] = []
    for (const cups of [1, 50]) {
      const codes = nymphs.slice(0, cups).map(({ label }) => label)
      const asked = { codes: codes.join(','), also: '', buyer: '' }
      counts.push(await countOf((tx, actor) => loadCounter(tx, actor, asked)))
    }
    expect(counts[0]).toBe(counts[1])
    expect(counts[0]).toBeLessThanOrEqual(MOST)
  })

  test('of a receipt are few, and as many for one line as for fifty', async () => {
    const counts: number[] = []
    for (const id of sales) counts.push(await countOf((tx, actor) => loadReceipt(tx, actor, id)))
    expect(counts[0]).toBe(counts[1])
    expect(counts[0]).toBeLessThanOrEqual(MOST)
  })

  test('of what is held and wished for are few, and do not grow with the wishes', async () => {
    const all = await countOf((tx, actor) => loadWaiting(tx, actor))
    await as((tx, { workspace: { workspaceId } }) =>
      tx.wish.updateMany({
        where: { workspaceId, count: { gt: 1 } },
        data: { endedOn: new Date(`${rack.today}T00:00:00Z`), end: 'filled' },
      }),
    )
    expect(await countOf((tx, actor) => loadWaiting(tx, actor))).toBe(all)
    expect(all).toBeLessThanOrEqual(MOST)
  })
})
