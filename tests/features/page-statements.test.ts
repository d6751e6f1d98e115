import { beforeAll, describe, expect, test, vi } from 'vitest'
import { loadClutch, loadClutches } from '@/lib/features/clutch/loaders'
import { loadCulturePage, loadCulturesPage } from '@/lib/features/culture/loaders'
import { loadDaySheet } from '@/lib/features/day-sheet/loaders'
import { loadEggCase, loadEggCases } from '@/lib/features/egg-case/loaders'
import { loadLiveFoodPage } from '@/lib/features/food-demand/loaders'
import { loadFoodPlanPage } from '@/lib/features/food-plan/loaders'
import { loadHousingPage } from '@/lib/features/housing/loaders'
import { loadIndividualListPage, loadIndividualPage } from '@/lib/features/individual/loaders'
import { loadMoultRoundPage } from '@/lib/features/moult/loaders'
import { loadOrderPage, loadOrdersPage } from '@/lib/features/order/loaders'
import { loadForSalePage } from '@/lib/features/price-list/loaders'
import { loadRoomForecastPage } from '@/lib/features/room-forecast/loaders'
import { loadCounterPage, loadReceiptPage, loadSalesPage } from '@/lib/features/sale/loaders'
import { loadBenchStart } from '@/lib/features/separation/loaders'
import { loadSeparationPlanPage } from '@/lib/features/separation-plan/loaders'
import { loadSpeciesListPage } from '@/lib/features/species/loaders'
import { loadZonePage, loadZonesPage } from '@/lib/features/zone/loaders'
import { requireDatabase } from '@/tests/support/database'
import { watchStatements } from '@/tests/support/failing-statement'
import { type FullRoom, makeFullRoom } from '@/tests/support/full-room'
import { makeSessionCookie } from '@/tests/support/page-request'

/** What the browser sends with a page; there is no request outside of the framework. */
const sent = vi.hoisted(() => ({ cookie: '' }))
vi.mock('next/headers', () => ({
  cookies: async () => ({ get: () => ({ value: sent.cookie }) }),
  headers: async () => new Headers(),
}))

requireDatabase()

/** A page asks no more than this besides the look-up and what opens its transaction. */
const MOST = 10

let rooms: FullRoom[]
beforeAll(async () => {
  rooms = [await makeFullRoom('One of each', 1), await makeFullRoom('Fifty of each', 50)]
})

type Page = (room: FullRoom, slug: string) => Promise<unknown>

const PAGES: Record<string, Page> = {
  'the day sheet': (_, slug) => loadDaySheet(slug),
  'the list of animals': (_, slug) => loadIndividualListPage(slug, {}),
  'an animal': ({ animal }, slug) => loadIndividualPage(slug, animal),
  'the list of clutches': (_, slug) => loadClutches(slug),
  'a clutch': ({ clutch }, slug) => loadClutch(slug, clutch),
  'the start of a run at the bench': ({ clutch }, slug) => loadBenchStart(slug, clutch),
  'the separation plan': (_, slug) => loadSeparationPlanPage(slug),
  'the list of egg cases': (_, slug) => loadEggCases(slug),
  'an egg case': ({ eggCase }, slug) => loadEggCase(slug, eggCase),
  'live food': (_, slug) => loadLiveFoodPage(slug),
  'the plan of live food': (_, slug) => loadFoodPlanPage(slug),
  'the list of jars': (_, slug) => loadCulturesPage(slug),
  'a jar': ({ culture }, slug) => loadCulturePage(slug, culture),
  'the room forecast': (_, slug) => loadRoomForecastPage(slug, {}),
  'the moult round': (_, slug) => loadMoultRoundPage(slug),
  housing: (_, slug) => loadHousingPage(slug),
  'the list of zones': (_, slug) => loadZonesPage(slug),
  'a zone': ({ zone }, slug) => loadZonePage(slug, zone, 30),
  'the list of species': (_, slug) => loadSpeciesListPage(slug),
  'the counter': ({ codes }, slug) => loadCounterPage(slug, { codes: codes.join(','), also: '', buyer: '' }),
  'the list of sales': (_, slug) => loadSalesPage(slug, undefined),
  'a receipt': ({ receipt }, slug) => loadReceiptPage(slug, receipt),
  'what is for sale': (_, slug) => loadForSalePage(slug),
  'the list of orders': (_, slug) => loadOrdersPage(slug, {}),
  'an order': ({ order }, slug) => loadOrderPage(slug, order, {}),
}

/** Without the one statement that enters the workspace; the look-up is asked by another role. */
async function countOf(page: Page, room: FullRoom): Promise<number> {
  sent.cookie = await makeSessionCookie(room.owner)
  const count = watchStatements()
  try {
    await page(room, room.owner.slug)
  } finally {
    count.stop()
  }
  return count.sent - 1
}

describe('a page asks few statements, and as many where there is one of each as where there are fifty', () => {
  test.each(Object.entries(PAGES))('%s', async (_name, page) => {
    const counts: number[] = []
    for (const room of rooms) counts.push(await countOf(page, room))
    expect(counts[1]).toBe(counts[0])
    expect(counts[0]).toBeGreaterThan(0)
    expect(counts[0]).toBeLessThanOrEqual(MOST)
  })
})
