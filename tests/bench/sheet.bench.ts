import { chromium, type Page } from 'playwright-core'
import sharp from 'sharp'
import { sheetContent } from '@/lib/documents/care-sheet/content'
import type { CareSheetPayload } from '@/lib/documents/care-sheet/payload'
import { renderCareSheet, renderCareSheetsOffThread } from '@/lib/documents/care-sheet/render'
import { qrSvg } from '@/lib/documents/qr'
import { findChromium } from '@/lib/ops/testing/chromium.mjs'
import { orchidNymph } from '@/tests/documents/sheet-samples'
import { printTable } from '@/tests/support/print-table'
import { sheetHtml } from '@/tests/support/sheet-html'
import { treeCpuMs, treeResidentMb } from '@/tests/support/tree-cpu'

/*
 * Sheets per second, each with a photo and a code of its own, against the same page printed by a headless browser, in
 * turns of one run; and what 500 of them take in memory, a file for every fifty as the job sets them.
 */

const TURNS = 4
const A_TURN = 10
const FILES = 10
const A_FILE = 50
const MB = 1_048_576

function photos(): Promise<Uint8Array[]> {
  return Promise.all(
    Array.from({ length: A_TURN }, (_, index) =>
      sharp({ create: { width: 640, height: 480, channels: 3, background: `hsl(${index * 36} 40% 50%)` } })
        .blur(3)
        .jpeg({ quality: 84 })
        .toBuffer()
        .then((bytes) => new Uint8Array(bytes)),
    ),
  )
}

function sheetOf(number: number, photo: Uint8Array): CareSheetPayload {
  const { animal } = orchidNymph()
  return orchidNymph({
    animal: { ...animal, labelCode: `K7Q ${number}`, photo: { bytes: photo, kind: 'jpg' } },
    publicPageUrl: `https://glassfern.example/p/${String(number).padStart(27, 'x')}`,
  })
}

const elapsed = async (work: () => Promise<unknown>) => {
  const start = performance.now()
  await work()
  return performance.now() - start
}

async function printBy(page: Page, sheets: { payload: CareSheetPayload; photo: Uint8Array }[]) {
  for (const { payload, photo } of sheets) {
    await page.setContent(sheetHtml(sheetContent(payload), { photo, qr: qrSvg(payload.publicPageUrl ?? '') }))
    await page.pdf({ format: 'A4', tagged: true })
  }
}

async function compareSpeed(pictures: Uint8Array[]): Promise<void> {
  const server = await chromium.launchServer({ executablePath: findChromium() ?? undefined })
  const browser = await chromium.connect(server.wsEndpoint())
  const page = await browser.newPage()
  const browserCpu = () => treeCpuMs(server.process().pid ?? 0)
  // The typesetting process is one of ours as the browser is, whose share is then taken off again.
  const ownCpu = () => treeCpuMs(process.pid) - browserCpu()
  const turnOf = (turn: number) =>
    pictures.map((photo, index) => ({ payload: sheetOf(turn * A_TURN + index, photo), photo }))
  // Both have done it once before the clock runs.
  renderCareSheet(sheetOf(999, pictures[0]!))
  await printBy(page, turnOf(99).slice(0, 1))
  const spent = { set: newSpent(), printed: newSpent(), together: newSpent() }
  for (let turn = 0; turn < TURNS; turn += 1) {
    const sheets = turnOf(turn)
    await spend(spent.set, ownCpu, async () => {
      for (const { payload } of sheets) renderCareSheet(payload)
    })
    await spend(spent.printed, browserCpu, () => printBy(page, sheets))
    const fresh = turnOf(turn + 50).map(({ payload }) => payload)
    await spend(spent.together, ownCpu, () => renderCareSheetsOffThread(fresh))
  }
  await browser.close()
  await server.close()
  const count = TURNS * A_TURN
  const row = (name: string, { wallMs, cpuMs }: Spent) => [
    name,
    ((count / wallMs) * 1000).toFixed(2),
    `${(spent.printed.wallMs / wallMs).toFixed(2)} ×`,
    (cpuMs / count).toFixed(0),
    `${(spent.printed.cpuMs / cpuMs).toFixed(2)} ×`,
  ]
  printTable(
    `${count} care sheets with a photo and a code each, in turns`,
    ['how', 'sheets/s', 'to the browser', 'processor ms/sheet', 'to the browser'],
    [
      row('set one by one', spent.set),
      row(`set ${A_TURN} to a file, off the thread`, spent.together),
      row('printed by a headless browser', spent.printed),
    ],
  )
}

type Spent = { wallMs: number; cpuMs: number }
const newSpent = (): Spent => ({ wallMs: 0, cpuMs: 0 })

/** By the clock, and by the processor: on a busy machine a browser of many processes gets more turns than we do. */
async function spend(spent: Spent, cpu: () => number, work: () => Promise<unknown>): Promise<void> {
  const before = cpu()
  spent.wallMs += await elapsed(work)
  spent.cpuMs += cpu() - before
}

async function measureBatch(pictures: Uint8Array[]): Promise<void> {
  const rows: string[][] = []
  let first = 0
  let most = 0
  for (let file = 0; file < FILES; file += 1) {
    const sheets = Array.from({ length: A_FILE }, (_, index) =>
      sheetOf(1000 + file * A_FILE + index, pictures[index % pictures.length]!),
    )
    const start = performance.now()
    const bytes = await renderCareSheetsOffThread(sheets)
    const rss = treeResidentMb(process.pid)
    if (file === 1) first = rss
    if (file >= 1) most = Math.max(most, rss)
    const seconds = (performance.now() - start) / 1000
    rows.push([`${(file + 1) * A_FILE}`, rss.toFixed(0), (bytes.length / MB).toFixed(2), seconds.toFixed(1)])
  }
  printTable('500 sheets, a file for every fifty', ['sheets', 'RSS MB', 'file MB', 's'], rows)
  console.log(`most after the first file / after the second: ${(most / first).toFixed(3)}\n`)
}

const pictures = await photos()
await compareSpeed(pictures)
await measureBatch(pictures)
process.exit(0)
