import type { PlainDate } from '@/lib/domain/calendar/date'
import { DEFAULT_PROFILES } from '@/lib/domain/care-profile/defaults'
import { updateGrowthFit } from '@/lib/features/growth-fit/mutations'
import { updatePastWindows } from '@/lib/features/past-window/mutations'
import { authPool } from '@/lib/platform/auth-database'
import { inTransaction } from '@/lib/platform/db'
import { enqueueFoodPlan } from '@/lib/platform/jobs'
import { hashPassword } from '@/lib/platform/password'
import { fromPlainDate, toPlainDate } from '@/lib/platform/plain-date'
import { inWorkspace, mintScope } from '@/lib/platform/workspace'
import { writeBreeder } from './breeder'
import { writeClimate } from './climate'
import { writeCompany } from './company'
import { writeLiveFood } from './live-food'
import { writeOrders } from './orders'
import { writeRounds } from './round'
import { writeFoodRows, writeRows } from './rows'
import {
  CONTAINER_KINDS,
  DEMO_PASSWORD,
  DEMO_PEOPLE,
  type DemoPerson,
  GLASS_FERN_ZONES,
  LARCH_LANE_ZONES,
} from './scenario'
import { writeSelling } from './selling'
import { writeShop } from './shop'
import { createSeedStream, type SeedStream } from './stream'
import { writeWatch } from './watch'
import { furnish, openWorkbook, type SpeciesEntry, stampId, type Workbook } from './workbook'

export type DemoSettings = { anchorOn: PlainDate; seed: number }

const WORKSPACES = {
  breeder: {
    name: 'Larch Lane Mantids',
    slug: 'larch-lane-mantids',
    contact: 'Larch Lane Mantids, hello@larch-lane.example, +49 30 5550 112',
  },
  shop: {
    name: 'The Glass Fern',
    slug: 'the-glass-fern',
    contact: 'The Glass Fern, counter@glass-fern.example, +49 30 5550 187',
  },
} as const

const TIME_ZONE = 'Europe/Berlin'

const MEMBERS: Record<
  keyof typeof WORKSPACES,
  [person: DemoPerson, role: 'owner' | 'keeper' | 'counter' | 'viewer'][]
> = {
  breeder: [
    ['mara', 'owner'],
    ['jonas', 'keeper'],
    ['ines', 'counter'],
    ['pim', 'viewer'],
  ],
  shop: [
    ['theo', 'owner'],
    ['ines', 'counter'],
  ],
}

/**
 * Makes the two demo workspaces with a year of records up to the anchor day. The same seed and anchor day make the
 * same rows; only the audit trail's own ids and the salted passwords differ.
 */
export async function seedDemo({ anchorOn, seed }: DemoSettings): Promise<void> {
  const stream = createSeedStream(seed)
  const people = await createPeople(stream, anchorOn)
  const breeder = await openWorkspace('breeder', { anchorOn, stream, people })
  furnish(breeder, LARCH_LANE_ZONES, CONTAINER_KINDS)
  const departures = writeBreeder(breeder, people.mara)
  orderCups(breeder)
  sayHours(breeder)
  writeRounds(breeder, [people.mara, people.jonas], seed + 1)
  writeCompany(breeder, people.jonas, seed + 8)
  writeClimate(breeder, TIME_ZONE, seed + 2)
  writeWatch(breeder, { zone: 'Warm shelf', watchers: [people.mara, people.jonas], takenBy: people.jonas })
  writeLiveFood(breeder, [people.mara, people.jonas], seed + 4)
  await close(breeder)
  await writeOrders(breeder, people.ines, seed + 5)
  await writeSelling(breeder, people.ines, seed + 6)
  await askForPlan(breeder, people.mara)
  const shop = await openWorkspace('shop', { anchorOn, stream, people })
  furnish(shop, GLASS_FERN_ZONES, CONTAINER_KINDS.slice(1, 4))
  writeShop(shop, departures, people.ines)
  writeClimate(shop, TIME_ZONE, seed + 3)
  await close(shop)
  await writeSelling(shop, people.ines, seed + 7)
}

// The breeder names one species of a genus whose care values are kept for the genus.
const DEMO_SPECIES = DEFAULT_PROFILES.flatMap((entry) =>
  entry.slug === 'pseudocreobotra-spp'
    ? [entry, { ...entry, slug: 'pseudocreobotra-wahlbergii', scientificName: 'Pseudocreobotra wahlbergii' }]
    : [entry],
)

/** Whether the demo has already been made in this database. */
export async function hasDemo(): Promise<boolean> {
  const found = await authPool().query('select 1 from workspace_slug where slug = $1', [
    WORKSPACES.breeder.slug,
  ])
  return found.rowCount === 1
}

type People = Record<DemoPerson, string>

async function createPeople(stream: SeedStream, anchorOn: PlainDate): Promise<People> {
  const passwordHash = await hashPassword(DEMO_PASSWORD)
  const since = new Date(fromPlainDate(anchorOn).getTime() - 400 * 86_400_000)
  const ids: Partial<People> = {}
  for (const key of Object.keys(DEMO_PEOPLE) as DemoPerson[]) {
    const { name, email } = DEMO_PEOPLE[key]
    const id = stream.uuid(since)
    await authPool().query(
      'insert into person (id, name, email, password_hash, created_at, confirmed_at) values ($1, $2, $3, $4, $5, $5)',
      [id, name, email, passwordHash, since],
    )
    ids[key] = id
  }
  return ids as People
}

type Opening = { anchorOn: PlainDate; stream: SeedStream; people: People }

async function openWorkspace(
  kind: keyof typeof WORKSPACES,
  { anchorOn, stream, people }: Opening,
): Promise<Workbook> {
  const since = new Date(fromPlainDate(anchorOn).getTime() - 400 * 86_400_000)
  const id = stream.uuid(since)
  const scope = mintScope({ workspaceId: id, personId: null, role: 'owner' })
  const { workspaceId } = scope
  const labelKey = Math.floor(stream.uniform() * 2 ** 31)
  const { name, slug, contact } = WORKSPACES[kind]
  const species = drawSpeciesIds(stream, since)
  await inTransaction(scope, async (tx) => {
    await tx.workspace.create({
      data: {
        workspaceId,
        name,
        slug,
        contact,
        claimTerms: 'Photograph losses and write to us within 24 hours of arrival.',
        timeZone: TIME_ZONE,
        country: 'DE',
        currency: 'EUR',
        language: 'en',
        labelKey,
        demoAnchorOn: fromPlainDate(anchorOn),
        createdAt: since,
      },
    })
    await tx.workspaceSlug.create({ data: { workspaceId, slug, createdAt: since } })
    await tx.membership.createMany({
      data: MEMBERS[kind].map(([person, role]) => ({
        workspaceId,
        personId: people[person],
        role,
        displayName: DEMO_PEOPLE[person].name,
        email: DEMO_PEOPLE[person].email,
        createdAt: since,
      })),
    })
    await tx.species.createMany({
      data: DEMO_SPECIES.map(({ slug: speciesSlug, scientificName, commonName, kind: speciesKind }) => ({
        workspaceId,
        id: species.get(speciesSlug)?.id ?? '',
        slug: speciesSlug,
        scientificName,
        commonName,
        kind: speciesKind,
        createdAt: since,
      })),
    })
    await tx.careProfile.createMany({
      data: DEMO_SPECIES.map(({ slug: speciesSlug, profile }) => ({
        workspaceId,
        speciesId: species.get(speciesSlug)?.id ?? '',
        number: 1,
        content: JSON.parse(JSON.stringify(profile)),
        createdAt: since,
      })),
    })
  })
  return openWorkbook({ workspaceId, labelKey: String(labelKey), stream, species, anchorOn })
}

function drawSpeciesIds(stream: SeedStream, since: Date): Map<string, SpeciesEntry> {
  return new Map(
    DEMO_SPECIES.map(({ slug, scientificName, profile }) => [
      slug,
      { id: stream.uuid(since), slug, scientificName, profile },
    ]),
  )
}

function orderCups(book: Workbook): void {
  const cup = book.kinds[0]
  if (!cup) return
  book.rows.containerKindOrder.push({
    workspaceId: book.workspaceId,
    id: book.stream.uuid(book.dateOf(-2)),
    containerKindId: cup.id,
    count: 100,
    expectedOn: book.dateOf(4),
  })
}

// A tight week: short evenings, one of them closed, and more siblings together than they part in time.
function sayHours(book: Workbook): void {
  const { workspaceId } = book
  book.rows.benchHours.push({ workspaceId, minutesByWeekday: [30, 30, 20, 30, 0, 60, 45] })
  book.rows.benchDay.push({ workspaceId, on: book.dateOf(3), minutes: 0, note: 'at the insect fair' })
}

async function close(book: Workbook): Promise<void> {
  const { workspaceId, numbers } = book
  const series = {
    individual: numbers.individual,
    clutch: numbers.clutch,
    'egg-case': numbers.eggCase,
    receipt: numbers.receipt,
    culture: book.rows.culture.length,
  }
  book.rows.counter.push(...Object.entries(series).map(([name, value]) => ({ workspaceId, name, value })))
  const system = { workspaceId, personId: null, apiTokenId: null }
  await inTransaction(system, (tx) => writeRows(tx, book.rows))
  await inTransaction(system, (tx) => writeFoodRows(tx, book.rows))
  await learn(book)
}

const PLANNED_WEEKS = 10

/** The queue works it out as soon as it runs, so that the first look finds a plan or sees it coming. */
async function askForPlan(book: Workbook, askedBy: string): Promise<void> {
  const scope = mintScope({ workspaceId: book.workspaceId, personId: null, role: 'owner' })
  await inWorkspace(scope, async (tx) => {
    const plan = await tx.foodPlan.create({
      data: {
        ...stampId(book, -1),
        question: { weeks: PLANNED_WEEKS },
        isTrial: false,
        fromOn: book.dateOf(0),
        weeks: PLANNED_WEEKS,
        askedBy,
        createdAt: book.dateOf(0),
      },
      select: { id: true },
    })
    await enqueueFoodPlan(tx, scope.workspaceId, plan.id)
  })
}

/** What the records say of growth is there from the first look on, instead of when the queue has come round to it. */
async function learn({ workspaceId, species, dateOf }: Workbook): Promise<void> {
  const fittedAt = dateOf(0)
  const scope = mintScope({ workspaceId, personId: null, role: 'owner' })
  await inWorkspace(scope, async (tx, workspace) => {
    const then = { ...workspace, today: toPlainDate(fittedAt) }
    for (const { id } of species.values()) {
      if ((await updateGrowthFit(tx, then, id)) !== 'fitted') continue
      await updatePastWindows(tx, then, { speciesId: id, atOnce: Number.POSITIVE_INFINITY })
    }
    await tx.growthFit.updateMany({ where: { workspaceId, version: { gt: 0 } }, data: { fittedAt } })
  })
}
