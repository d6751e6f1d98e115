import { describe, expect, test } from 'vitest'
import { GET as GET_CULTURES } from '@/app/api/v1/cultures/route'
import { addDays, type PlainDate } from '@/lib/domain/calendar/date'
import { listCultures } from '@/lib/features/culture/data'
import { updateCulture } from '@/lib/features/culture/mutations'
import { loadDayList } from '@/lib/features/day-sheet/data'
import { loadFoodPlanGround } from '@/lib/features/food-plan/data'
import { recordPreyCount } from '@/lib/features/prey/mutations'
import { createZone } from '@/lib/features/zone/mutations'
import { todayIn } from '@/lib/platform/plain-date'
import type { Scope } from '@/lib/platform/workspace'
import { requireDatabase } from '@/tests/support/database'
import { makeShelf } from '@/tests/support/fly-shelf'
import { callApi, makeToken, within } from '@/tests/support/workspaces'

requireDatabase()

const today = todayIn('Europe/Berlin')
const ago = (days: number): PlainDate => addDays(today, -days)

describe('a jar that is carried to a cool place', () => {
  async function makeCorner(name: string) {
    const shelf = await makeShelf(name)
    const cool = await within(shelf.owner, (tx, workspace) =>
      createZone(tx, workspace, { name: 'Cool corner', setTemperatureC: 18 }),
    )
    const token = await makeToken(shelf.owner, 'keeper')
    const move = async (culture: string, movedOn: PlainDate | undefined, zone = cool.id) => {
      const version = (await listRow(shelf.owner, culture))?.version ?? 0
      const sent = { culture, version, zone, shelf: 'top', notes: '', ...(movedOn ? { movedOn } : {}) }
      return within(shelf.owner, (tx, workspace) =>
        updateCulture(tx, { scope: shelf.owner, workspace }, sent),
      )
    }
    return { ...shelf, cool: cool.id, token, move }
  }
  const listRow = async (owner: Scope, id: string) =>
    (await within(owner, (tx, { workspaceId }) => listCultures(tx, workspaceId, { ids: [id] })))[0]

  test('gives later and is kept longer, and the API says where it stood', async () => {
    const { owner, token, start, move, shelf, cool, zone } = await makeCorner('Cool corner')
    const { value: ids } = await start({ startedOn: ago(8), count: 2 })
    const [moved = '', stays = ''] = ids
    await move(moved, ago(4))
    const standing = (await shelf()).standing
    const outlookOf = (id: string) => standing.find(({ jar }) => jar.id === id)!.outlook
    expect(outlookOf(moved).firstFliesOn > outlookOf(stays).firstFliesOn).toBe(true)
    expect(outlookOf(moved).discardOn > outlookOf(stays).discardOn).toBe(true)
    const { body } = await callApi(GET_CULTURES, { token })
    const [first, second] = body.items
    expect(first).toMatchObject({ zone: cool, moves: [{ on: ago(4), from: zone, to: cool }] })
    expect(second.moves).toEqual([])
    // The same day once more: where it stood for an hour is not kept.
    await move(moved, ago(4), zone)
    expect((await listRow(owner, moved))?.moves).toEqual([])
  })

  test('is thrown out later by the day sheet too', async () => {
    const { owner, start, move } = await makeCorner('Discards')
    const { value } = await start({ startedOn: ago(36), count: 2 })
    const [moved = '', stays = ''] = value
    await move(moved, ago(25))
    const { tasks } = await within(owner, (tx, workspace) => loadDayList(tx, workspace))
    const subjects = tasks.flatMap(({ subject }) => (subject.type === 'cultures' ? subject.ids : []))
    expect(subjects).toEqual([stays])
  })

  test('cannot have been moved before it was started, before it was moved last, or tomorrow', async () => {
    const { owner, start, move, zone } = await makeCorner('Moves in order')
    const { value } = await start({ startedOn: ago(8) })
    const [jar = ''] = value
    await expect(move(jar, ago(9))).rejects.toMatchObject({ fields: [{ path: 'movedOn' }] })
    await expect(move(jar, addDays(today, 1))).rejects.toMatchObject({ fields: [{ path: 'movedOn' }] })
    await move(jar, ago(3))
    await expect(move(jar, ago(5), zone)).rejects.toMatchObject({ fields: [{ path: 'movedOn' }] })
    // Nothing of what was refused is left behind.
    expect(await listRow(owner, jar)).toMatchObject({ version: 2, moves: [{ on: ago(3) }] })
  })

  test('of the day it was started never stood anywhere else', async () => {
    const { owner, start, move, cool } = await makeCorner('Wrong zone typed')
    const { value } = await start({ startedOn: ago(8) })
    const [jar = ''] = value
    await move(jar, ago(8))
    expect(await listRow(owner, jar)).toMatchObject({ zoneId: cool, moves: [] })
  })
})

describe('flies in a jar that nobody has counted', () => {
  test('are said, with how full it was made, until they are taken out or flies of the line are counted', async () => {
    const { owner, start, harvest } = await makeShelf('Uncounted')
    const token = await makeToken(owner, 'keeper')
    const { value } = await start({ startedOn: ago(18), count: 2, starters: 45 })
    const [jar = ''] = value
    const read = async () => (await callApi(GET_CULTURES, { token })).body.items
    const [before] = await read()
    expect(before.starters).toBe(45)
    expect(before.uncounted).toBeGreaterThan(50)
    await harvest(jar, today, 200)
    const [taken, other] = await read()
    expect(taken.uncounted).toBe(0)
    expect(other.uncounted).toBe(before.uncounted)
    const counted = { line: 'melanogaster', on: ago(1), count: 300 }
    await within(owner, (tx, workspace) => recordPreyCount(tx, { scope: owner, workspace }, counted))
    expect((await read())[1].uncounted).toBe(0)
  })

  test('are there for the plan of the room', async () => {
    const { owner, start, harvest } = await makeShelf('Plan with jars')
    const { value } = await start({ startedOn: ago(18), count: 2 })
    const caseOf = () =>
      within(owner, async (tx, workspace) => {
        const { makeCase } = await loadFoodPlanGround(tx, workspace, { weeks: 4 })
        return makeCase()
      })
    const before = await caseOf()
    expect(before.cultures).toMatchObject([{ uncountedSince: ago(18) }, { uncountedSince: ago(18) }])
    await harvest(String(value[0]), today, 80)
    const after = await caseOf()
    expect(after.cultures?.map(({ uncountedSince }) => uncountedSince ?? null)).toEqual([null, ago(18)])
  })
})
