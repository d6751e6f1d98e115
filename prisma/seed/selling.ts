import { PERSONAL_FIELDS, type PersonalFields } from '@/lib/domain/buyer/retention'
import { addDays } from '@/lib/domain/calendar/date'
import { type PriceSubject, priceKey } from '@/lib/domain/price/price-list'
import { fromPlainDate } from '@/lib/platform/plain-date'
import { inWorkspace, mintScope, type WorkspaceId } from '@/lib/platform/workspace'
import { PRICE_MINOR_BY_SPECIES } from './scenario'
import { createSeedStream } from './stream'
import type { Workbook } from './workbook'

type Tx = Parameters<Parameters<typeof inWorkspace>[1]>[0]
type Pen = { workspaceId: WorkspaceId; newId: () => string; dateOf: (day: number) => Date }

type BuyerStory = PersonalFields & {
  country: string
  experience: 'unknown' | 'beginner' | 'experienced'
  news: boolean
}

const NOBODY: PersonalFields = { name: '', email: '', phone: '', address: '', note: '' }
const BUYERS: BuyerStory[] = [
  {
    ...NOBODY,
    ...{ name: 'Runa Heidegger', email: 'runa@birch-yard.example', phone: '+49 30 5550 241' },
    ...{ address: 'Birch Yard 7\n10249 Berlin', country: 'DE', experience: 'experienced', news: true },
  },
  {
    ...NOBODY,
    ...{
      name: 'Emre Tallow',
      email: 'emre@weir-cottage.example',
      note: 'First mantis; a parent comes along.',
    },
    ...{ country: 'DE', experience: 'beginner', news: false },
  },
  {
    ...NOBODY,
    ...{ name: 'Lotte van Esdoorn', email: 'lotte@canal-house.example', country: 'NL' },
    ...{ experience: 'experienced', news: true },
  },
]

/** How the demo sells: buyers, taxes, a list of prices and its copy for fairs, an animal that is held, and wishes. */
export async function writeSelling(
  { workspaceId, species, kinds, plainOf, dateOf }: Workbook,
  madeBy: string,
  seed: number,
): Promise<void> {
  const scope = mintScope({ workspaceId, personId: null, role: 'owner' })
  const stream = createSeedStream(seed)
  const pen: Pen = { workspaceId, dateOf, newId: () => stream.uuid(dateOf(-1)) }
  await inWorkspace(scope, async (tx) => {
    await writeTill(tx, pen)
    const buyers = await writeBuyers(tx, pen)
    const cups = kinds.map(({ id, story }) => ({ id, priceMinor: 30 + Math.round(story.volumeMl / 40) }))
    await writePrices(tx, pen, { species: [...species.values()], cups: cups.slice(0, 3) })
    await writeWaiting(tx, pen, { buyers, madeBy, until: addDays(plainOf(0), 9) })
  })
}

async function writeTill(tx: Tx, { workspaceId, newId, dateOf }: Pen): Promise<void> {
  await tx.till.create({
    data: {
      ...{ workspaceId, pricesIncludeTax: true, retentionYears: 10, certifiedTill: false },
      receiptWords: 'Live arrival: photograph losses within 24 hours. Never release animals outdoors.',
      createdAt: dateOf(-300),
    },
  })
  const rate = { workspaceId, createdAt: dateOf(-300) }
  await tx.taxRate.create({
    data: {
      ...{ ...rate, id: newId(), name: 'full rate', basisPoints: 1900 },
      appliesTo: ['animal', 'lot', 'container', 'other'],
    },
  })
  await tx.taxRate.create({
    data: { ...rate, id: newId(), name: 'reduced rate', basisPoints: 700, appliesTo: ['culture', 'pack'] },
  })
}

async function writeBuyers(tx: Tx, { workspaceId, newId, dateOf }: Pen): Promise<string[]> {
  const ids: string[] = []
  for (const [index, { country, experience, news, ...person }] of BUYERS.entries()) {
    const id = newId()
    const on = dateOf(-40 - index * 17)
    await tx.buyer.create({
      data: {
        ...{ workspaceId, id, country, experience, keepConsentOn: on, createdAt: on },
        newsConsentOn: news ? on : null,
        changedFields: PERSONAL_FIELDS.filter((field) => person[field] !== ''),
      },
    })
    await tx.buyerPerson.create({ data: { workspaceId, buyerId: id, ...person } })
    ids.push(id)
  }
  return ids
}

type Priced = {
  species: { id: string; slug: string }[]
  cups: { id: string; priceMinor: number }[]
}

/** Dearer with every instar, and females more than males; the copy for fairs rounds up to whole euros. */
async function writePrices(
  tx: Tx,
  { workspaceId, newId, dateOf }: Pen,
  { species, cups }: Priced,
): Promise<void> {
  const open = { moults: null, adult: false, sex: null, containerKindId: null, preySlug: null }
  const animals = species.flatMap(({ id, slug }) => {
    const base = PRICE_MINOR_BY_SPECIES[slug]
    if (base === undefined) return []
    const subject: PriceSubject = { ...open, kind: 'animal', speciesId: id }
    return [
      { ...subject, priceMinor: base },
      ...[3, 4, 5].map((moults) => ({ ...subject, moults, priceMinor: base + (moults - 2) * 300 })),
      { ...subject, moults: 5, sex: 'female' as const, priceMinor: base + 1300 },
      { ...subject, adult: true, sex: 'female' as const, priceMinor: base + 1800 },
      { ...subject, adult: true, sex: 'male' as const, priceMinor: base + 900 },
      { ...subject, kind: 'egg_case' as const, priceMinor: base + 700 },
    ]
  })
  const stock = cups.map(({ id, priceMinor }) => ({
    ...{ ...open, kind: 'container' as const, speciesId: null },
    ...{ containerKindId: id, priceMinor },
  }))
  for (const [name, isCopy] of [
    ['At the counter', false],
    ['Insect fair', true],
  ] as const) {
    const listId = newId()
    await tx.priceList.create({
      data: { workspaceId, id: listId, name, proposed: !isCopy, createdAt: dateOf(-200) },
    })
    await tx.priceEntry.createMany({
      data: [...animals, ...stock].map((price) => ({
        ...{ workspaceId, listId, key: priceKey(price) },
        ...price,
        priceMinor: isCopy ? Math.ceil(price.priceMinor / 100) * 100 : price.priceMinor,
      })),
    })
  }
}

type Waiting = { buyers: string[]; madeBy: string; until: string }

/** One animal is held; one buyer waits for more than there may be, another for what there will be. */
async function writeWaiting(
  tx: Tx,
  { workspaceId, newId, dateOf }: Pen,
  { buyers, madeBy, until }: Waiting,
): Promise<void> {
  const [first = '', , third = ''] = buyers
  const free = await tx.individual.findFirst({
    where: {
      workspaceId,
      whereabouts: 'single',
      adultSinceOn: null,
      reservations: { none: { workspaceId, endedOn: null } },
    },
    orderBy: { label: 'asc' },
    select: { id: true, speciesId: true },
  })
  if (!free) return
  await tx.reservation.create({
    data: {
      ...{ workspaceId, id: newId(), buyerId: first, individualId: free.id, madeBy },
      ...{ madeOn: dateOf(-1), untilOn: fromPlainDate(until), createdAt: dateOf(-1) },
    },
  })
  const wish = { workspaceId, speciesId: free.speciesId, madeOn: dateOf(-6), createdAt: dateOf(-6) }
  await tx.wish.create({
    data: { ...wish, id: newId(), buyerId: third, count: 2, byOn: dateOf(40) },
  })
  await tx.wish.create({
    data: { ...wish, id: newId(), buyerId: first, sex: 'female', moults: 4, count: 3, byOn: dateOf(74) },
  })
}
