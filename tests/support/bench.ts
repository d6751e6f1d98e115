import type { Page } from 'playwright-core'
import { signIn } from './browser'

export type Person = { email: string; password: string }
export const CLUTCHES = '/w/larch-lane-mantids/clutches'

/** Begins a run of a clutch of the demo, as somebody who is signed in already. */
export async function startRun(page: Page, address: string, run: { clutch: string; planned: number }) {
  await page.goto(`${address}${CLUTCHES}`)
  await page.getByRole('link', { name: run.clutch, exact: true }).click()
  await page.getByRole('link', { name: 'Open the bench' }).click()
  await page.getByLabel('How many this time').fill(String(run.planned))
  await page.getByRole('button', { name: 'To the bench' }).click()
  await page.getByText('One in a cup').waitFor({ timeout: 60_000 })
}

export async function openBench(
  page: Page,
  at: { address: string; person: Person; clutch: string; planned?: number },
): Promise<void> {
  await signIn(page, at.address, at.person)
  await startRun(page, at.address, { clutch: at.clutch, planned: at.planned ?? 20 })
}

/** A touch; the second one within 300 ms would be a bounce. */
export async function tap(page: Page, times: number): Promise<void> {
  for (let each = 0; each < times; each += 1) {
    await page.locator('[data-count]').click()
    await page.waitForTimeout(320)
  }
}

export async function countOnScreen(page: Page): Promise<number> {
  return Number(await page.locator('[data-count] > span').first().textContent())
}

/** Until the device has its copy of the page, with every file it names. */
export async function waitForCopy(page: Page): Promise<void> {
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready
  })
}

/** What the device has on disk and has not sent. */
export function readKept(page: Page): Promise<unknown[]> {
  return page.evaluate(
    () =>
      new Promise<unknown[]>((resolve) => {
        const opening = indexedDB.open('bench')
        opening.onsuccess = () => {
          const asking = opening.result.transaction('entries').objectStore('entries').getAll()
          asking.onsuccess = () => {
            opening.result.close()
            resolve(
              asking.result.filter(({ state }) => state === 'waiting').map(({ operation }) => operation),
            )
          }
        }
      }),
  )
}
