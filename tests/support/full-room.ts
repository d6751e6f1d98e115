import { POST as postObservation } from '@/app/api/v1/clutches/[id]/observations/route'
import { POST as postOrder } from '@/app/api/v1/orders/route'
import { createCultures, recordHarvest } from '@/lib/features/culture/mutations'
import { recordLooks } from '@/lib/features/look/mutations'
import { createSale } from '@/lib/features/sale/mutations'
import { createZone } from '@/lib/features/zone/mutations'
import { fromPlainDate } from '@/lib/platform/plain-date'
import { makeClutch, makeEggCase } from '@/tests/support/brood'
import { makeNymphs, makeRack, type Rack } from '@/tests/support/rack'
import { animalLine, plainSale } from '@/tests/support/sale'
import { callApi, within } from '@/tests/support/workspaces'

/** A room in which everything is there so many times, with one of each to open. */
export type FullRoom = Rack & {
  clutch: string
  animal: string
  codes: string[]
  eggCase: string
  culture: string
  order: string
  receipt: string
}

/** A room with `count` of everything that its pages list. */
export async function makeFullRoom(name: string, count: number): Promise<FullRoom> {
  const rack = await makeRack(name, 4 * count + 4)
  const times = Array.from({ length: count })
  const clutches: string[] = []
  const eggCases: string[] = []
  for (const _ of times) {
    clutches.push(await makeClutch(rack, { hatched: 6, count: 30 }))
    eggCases.push(await makeEggCase(rack))
  }
  const [clutch = '', eggCase = ''] = [clutches[0], eggCases[0]]
  const brood = { hatchedOn: rack.day(-40), partedOn: rack.day(-9), moults: 2, lastMoultOn: rack.day(-9) }
  const nymphs = await makeNymphs(rack, { count: 2 * count, ...brood })
  const here = nymphs.slice(0, count)
  await fillLives(
    rack,
    here.map(({ id }) => id),
  )
  for (const _ of times)
    await callApi(postObservation, {
      token: rack.token,
      params: { id: clutch },
      body: { on: rack.day(-1), moulted: 'some' },
    })
  const culture = await fillShelf(rack, count)
  const { receipt, order } = await fillSales(
    rack,
    nymphs.slice(count).map(({ id }) => id),
  )
  return {
    ...rack,
    clutch,
    eggCase,
    culture,
    order,
    receipt,
    animal: String(here[0]?.id),
    codes: here.map(({ label }) => label),
  }
}

/** Each has moulted, was fed and looked at. */
async function fillLives(rack: Rack, individuals: readonly string[]): Promise<void> {
  await within(rack.owner, async (tx, workspace) => {
    const { workspaceId } = workspace
    const each = individuals.map((individualId) => ({ workspaceId, individualId }))
    await tx.moult.createMany({
      data: each.map((of) => ({ ...of, number: 3, on: fromPlainDate(rack.day(-2)) })),
    })
    await tx.feeding.createMany({
      data: each.map((of) => ({ ...of, on: fromPlainDate(rack.day(-4)), ate: true, prey: 'hydei' })),
    })
    await recordLooks(
      tx,
      { scope: rack.owner, workspace },
      { on: rack.day(-1), individuals: [...individuals] },
    )
  })
}

/** Jars of two ages, each harvested once, on shelves of so many zones. */
async function fillShelf(rack: Rack, count: number): Promise<string> {
  return within(rack.owner, async (tx, workspace) => {
    const actor = { scope: rack.owner, workspace }
    for (let index = 1; index < count; index++)
      await createZone(tx, workspace, { name: `Shelf ${index}`, setTemperatureC: 24 })
    const jar = { line: 'melanogaster', shelf: 'top', notes: '', bought: false, zone: rack.zone, count }
    const { value: jars } = await createCultures(tx, actor, { ...jar, startedOn: rack.day(-18) })
    for (const culture of jars)
      await recordHarvest(tx, actor, { culture, on: rack.day(-1), count: 40, measure: 'about' })
    return String(jars[0])
  })
}

/** So many sold on one receipt, and as many orders. */
async function fillSales(rack: Rack, individuals: readonly string[]) {
  const receipt = await within(rack.owner, (tx, workspace) =>
    createSale(
      tx,
      { scope: rack.owner, workspace },
      plainSale(
        rack.today,
        individuals.map((id) => animalLine(id, 900)),
      ),
    ),
  )
  const line = {
    species: 'creobroter-spp',
    takes: 'nymph',
    fromMoults: 3,
    untilMoults: 3,
    count: 1,
    price: 1400,
  }
  let order = ''
  for (const _ of individuals)
    order = (await callApi(postOrder, { token: rack.token, body: { lines: [line] } })).body.id
  return { receipt: receipt.value.id, order }
}
