import { addDays, type PlainDate } from '@/lib/domain/calendar/date'
import { inWorkspace, mintScope, type WorkspaceId } from '@/lib/platform/workspace'
import { createSeedStream } from './stream'
import type { Workbook } from './workbook'

type Tx = Parameters<Parameters<typeof inWorkspace>[1]>[0]
type Found = { id: string; speciesId: string; moults: number }

const HERE = 'DE 10'
const THERE = 'DE 79'
/** Cold nights at both ends, a frost in the week after. */
const NIGHTS_C = [6, 5, 7, 6, 4, 3, 1, -3, -5, -2, 2, 5, 6, 7]

/**
 * Orders of the demo: one that can go on the next day boxes are sent, one that cannot go yet because an animal of it
 * has just moulted, one that is paid and kept here, and one that is on its way.
 */
export async function writeOrders(
  { workspaceId, plainOf, dateOf }: Workbook,
  takenBy: string,
  seed: number,
): Promise<void> {
  const scope = mintScope({ workspaceId, personId: null, role: 'owner' })
  const stream = createSeedStream(seed)
  const newId = () => stream.uuid(dateOf(-1))
  await inWorkspace(scope, async (tx) => {
    const today = plainOf(0)
    const fit = await findAnimals(tx, workspaceId, { today, isSoft: false })
    const soft = await findAnimals(tx, workspaceId, { today, isSoft: true })
    const [first, second] = fit
    const [tender, other = tender] = soft
    const write = orderWriter(tx, { workspaceId, takenBy, dateOf, newId })
    if (first && second)
      await write(1, { name: 'R. Alder', orderedDay: -3, animals: [first], chosen: [], isWide: true })
    if (tender && second)
      await write(2, {
        name: 'Kestrel School',
        orderedDay: -2,
        animals: [tender, second],
        chosen: [tender, second],
      })
    if (other && other !== tender)
      await write(3, {
        name: 'M. Sorrel',
        orderedDay: -1,
        animals: [other],
        chosen: [other],
        isCollected: true,
      })
    await tx.counter.create({ data: { workspaceId, name: 'order', value: 3 } })
    await writeSending(tx, { workspaceId, today, dateOf })
  })
}

/** At home, in the middle of the ages that are sold; soft ones moulted yesterday or today. */
function findAnimals(
  tx: Tx,
  workspaceId: WorkspaceId,
  { today, isSoft }: { today: PlainDate; isSoft: boolean },
): Promise<Found[]> {
  const [from, until] = isSoft ? [addDays(today, -1), today] : [addDays(today, -8), addDays(today, -3)]
  return tx.$queryRaw<Found[]>`
    select i.id, i.species_id as "speciesId", m.number as moults from individual i
    join lateral (select x.number, x."on" from moult x where x.workspace_id = i.workspace_id
      and x.individual_id = i.id and x.archived_at is null order by x.number desc limit 1) m on true
    join species s on s.workspace_id = i.workspace_id and s.id = i.species_id
    where i.workspace_id = ${workspaceId}::uuid and i.whereabouts = 'single' and i.adult_since_on is null
      and m.number between 2 and 5 and m."on" between ${from}::date and ${until}::date
    order by s.slug, m."on" desc, i.label limit 6`
}

type Pen = { workspaceId: WorkspaceId; takenBy: string; dateOf: (day: number) => Date; newId: () => string }
type Story = {
  name: string
  orderedDay: number
  animals: Found[]
  chosen: Found[]
  isCollected?: boolean
  isWide?: boolean
}

function orderWriter(tx: Tx, { workspaceId, takenBy, dateOf, newId }: Pen) {
  return async (number: number, story: Story) => {
    const { name, orderedDay, animals, chosen, isCollected = false, isWide = false } = story
    const orderId = newId()
    const way = isCollected ? ('collected' as const) : ('sent' as const)
    await tx.customerOrder.create({
      data: {
        ...{ workspaceId, id: orderId, number, way, takenBy },
        orderedOn: dateOf(orderedDay),
        paidOn: dateOf(orderedDay),
        transitDays: isCollected ? 0 : 1,
        claimHours: 24,
        awayOn: [],
        country: isCollected ? '' : 'DE',
        area: isCollected ? '' : THERE,
        createdAt: dateOf(orderedDay),
      },
    })
    const paid = {
      workspaceId,
      orderId,
      number: 1,
      kind: 'transfer' as const,
      on: dateOf(orderedDay),
      takenBy,
    }
    await tx.orderPayment.create({
      data: { ...paid, amountMinor: 1600 * animals.length, createdAt: dateOf(orderedDay) },
    })
    const address = isCollected ? '' : `Mill Lane ${number}\n79100 Upper Weir`
    await tx.orderAddress.create({ data: { workspaceId, orderId, name, address } })
    for (const [index, animal] of animals.entries()) {
      const lineNumber = index + 1
      const [fromMoults, untilMoults] = isWide ? [2, 5] : [animal.moults, animal.moults]
      const stage = { takes: 'nymph' as const, fromMoults, untilMoults }
      const line = { workspaceId, orderId, number: lineNumber, speciesId: animal.speciesId, ...stage }
      await tx.orderLine.create({ data: { ...line, sex: 'any', count: 1, priceMinor: 1600 } })
      if (!chosen.includes(animal)) continue
      const taken = { workspaceId, id: newId(), orderId, lineNumber, individualId: animal.id }
      await tx.orderAnimal.create({ data: { ...taken, chosenOn: dateOf(orderedDay) } })
    }
  }
}

type Sending = { workspaceId: WorkspaceId; today: PlainDate; dateOf: (day: number) => Date }

async function writeSending(tx: Tx, { workspaceId, dateOf }: Sending): Promise<void> {
  await tx.dispatchRules.create({
    data: {
      ...{ workspaceId, weekdays: [1, 2, 3], transitDays: 1, claimHours: 24, keepAddressDays: 30 },
      area: HERE,
    },
  })
  await tx.airDay.createMany({
    data: NIGHTS_C.flatMap((lowC, day) => [
      { workspaceId, area: HERE, on: dateOf(day), lowC, highC: lowC + 5 },
      { workspaceId, area: THERE, on: dateOf(day), lowC: lowC + 1, highC: lowC + 5 },
    ]),
  })
}
