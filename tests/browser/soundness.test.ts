import { readdirSync } from 'node:fs'
import path from 'node:path'
import type { Browser } from 'playwright-core'
import { beforeAll, describe, expect, it } from 'vitest'
import { seededStream } from '@/lib/domain/random/seeded'
import { DESK, expectSoundPage, openBrowser, openDevice, PHONE, signIn } from '@/tests/support/browser'
import { type DemoServer, demoSignIn, startDemoServer } from '@/tests/support/demo-server'
import { isLong, SEED } from '@/tests/support/sample'

const FOLDER = path.resolve(import.meta.dirname, '../../app/w/[workspace]')

/** Every page of a workspace whose address can be written down, as the routes lie on disk. */
const PLACES = readdirSync(FOLDER, { recursive: true })
  .map(String)
  .filter((file) => path.basename(file) === 'page.tsx' && !file.includes('['))
  .map((file) =>
    path
      .dirname(file)
      .replace(/^\.?\/?/, '/')
      .replace(/\/$/, ''),
  )
  .sort()

// One of each kind, reached by the first link of its list.
const ENTRIES = [
  '/egg-cases',
  '/clutches',
  '/individuals',
  '/species',
  '/sales',
  '/zones',
  '/incidents',
  '/colonies',
  '/orders',
  '/sales/buyers',
  '/live-food/cultures',
  '/live-food/prey',
]

const LOOKS = [
  { name: 'a desk by day', viewport: DESK, theme: 'day' },
  { name: 'a phone by day', viewport: PHONE, theme: 'day' },
  { name: 'a desk at night', viewport: DESK, theme: 'rack' },
  { name: 'a phone at night', viewport: PHONE, theme: 'rack' },
] as const

/** A short run sees each page once, in a look that the seed draws: the looks share their parts, and runs draw anew. */
const dice = seededStream(`soundness ${SEED}`)
const isLookedAt = new Map(
  ['/sign-in', ...PLACES, ...ENTRIES.map((list) => `one of ${list}`)].map((place) => {
    const drawn = dice.integer(0, LOOKS.length - 1)
    return [place, (look: number) => isLong || look === drawn]
  }),
)
const chosenFor = (look: number) => (place: string) => isLookedAt.get(place)?.(look)

describe(`every page of the demo is accessible, fits, and has nothing to complain about (seed ${SEED})`, () => {
  let browser: Browser
  let demo: DemoServer
  let base: string

  beforeAll(async () => {
    demo = await startDemoServer()
    browser = await openBrowser()
    base = `${demo.server.address}/w/larch-lane-mantids`
    return async () => {
      await browser.close()
      await demo.stop()
    }
  })

  it('and there are more than thirty of them', () => {
    expect(PLACES).toContain('/live-food/plan')
    expect(PLACES.length).toBeGreaterThan(30)
  })

  it.each(LOOKS.map((look, index) => ({ ...look, index })))(
    'on $name',
    async ({ viewport, theme, index }) => {
      const { page, context, complaints } = await openDevice(browser, { viewport, theme })
      const isChosen = chosenFor(index)
      await page.goto(`${demo.server.address}/sign-in`)
      if (isChosen('/sign-in')) await expectSoundPage(page, 'sign-in')
      await signIn(page, demo.server.address, demoSignIn('mara'))
      for (const place of PLACES.filter(isChosen)) {
        const answer = await page.goto(base + place)
        expect(answer?.status(), place).toBe(200)
        await expectSoundPage(page, place || 'day sheet')
      }
      for (const list of ENTRIES.filter((each) => isChosen(`one of ${each}`))) {
        await page.goto(base + list)
        const href = await page
          .locator(`main a[href^="/w/larch-lane-mantids${list}/"]`)
          .evaluateAll(
            (links, known) =>
              links
                .map((link) => link.getAttribute('href') ?? '')
                .find((address) => !known.includes(address.replace(/^\/w\/[^/]+/, ''))),
            PLACES,
          )
        expect(href, `there is one of ${list}`).toBeTruthy()
        await page.goto(`${demo.server.address}${href}`)
        await expectSoundPage(page, `one of ${list}`)
      }
      expect(complaints).toEqual([])
      await context.close()
    },
    600_000,
  )
})
