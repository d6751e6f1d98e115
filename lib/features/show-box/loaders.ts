import type { BoxPapersPayload } from '@/lib/documents/show-box/papers'
import type { Paper } from '@/lib/domain/care-sheet/paper'
import { formatCode } from '@/lib/domain/label/code'
import { isAllowed } from '@/lib/domain/role/permissions'
import { loadCareSheets, readSheetChoice } from '@/lib/features/care-sheet/data'
import { loadReceiptNumbers } from '@/lib/features/sale/data'
import { listShowBoxes, loadBoxedAnimals, requireShowBox } from '@/lib/features/show-box/data'
import { SHEETS_A_PRINT } from '@/lib/features/show-box/schema'
import { loadSpeciesById } from '@/lib/features/species/data'
import { listItemChoices } from '@/lib/features/stock-line/data'
import { isLanguage, type Language } from '@/lib/messages/language'
import { refuseUnknown } from '@/lib/platform/errors'
import { loadPage, requireIdParam } from '@/lib/platform/page'

/** The boxes, newest first, and what a new one is packed from. */
export function loadShowBoxesPage(slug: string) {
  return loadPage({ slug, permission: 'sale:read' }, async ({ tx, workspace, scope }) => {
    const { workspaceId, today, language } = workspace
    const boxes = await listShowBoxes(tx, workspaceId)
    const species = [...(await loadSpeciesById(tx, workspaceId)).values()]
    return {
      boxes: boxes.map(({ animals, parts, ...box }) => ({
        ...box,
        out: animals.filter(({ end }) => end === null).length,
        sold: animals.filter(({ end }) => end === 'sold').length,
        receipts: parts.reduce((sum, part) => sum + part.receipts, 0),
      })),
      species: species.map(({ id, scientificName }) => ({ value: id, label: scientificName })),
      language: isLanguage(language) ? language : ('en' as Language),
      today,
      maySell: isAllowed(scope.role, 'sale:write'),
    }
  })
}
export type ShowBoxesPage = Awaited<ReturnType<typeof loadShowBoxesPage>>

/** One box: who is in it and why they may travel, which device sells what, and what came home. */
export function loadShowBoxPage(slug: string, id: string) {
  return loadPage({ slug, permission: 'sale:read' }, async ({ tx, workspace, scope }) => {
    const { workspaceId, today, currency, timeZone } = workspace
    const maySell = isAllowed(scope.role, 'sale:write')
    const box = await requireShowBox(tx, workspaceId, requireIdParam(id))
    const ids = box.animals.map(({ individualId }) => individualId)
    const rows = await loadBoxedAnimals(tx, workspace, { ids, ...box })
    const receipts = await loadReceiptNumbers(tx, workspaceId, ids)
    const of = new Map(box.animals.map((one) => [one.individualId, one]))
    return {
      box,
      workspaceId,
      timeZone,
      animals: rows.map(({ animal, description, priceMinor, check }) => ({
        ...{ id: animal.id, label: formatCode(animal.label), description, priceMinor },
        whereabouts: animal.whereabouts,
        // As it stands now; who has left is not asked any more.
        against: animal.whereabouts === 'single' ? check.why : null,
        part: of.get(animal.id)?.part ?? 1,
        end: of.get(animal.id)?.end ?? null,
        receipt: receipts.get(animal.id) ?? null,
      })),
      choices: maySell && !box.settledOn ? await listItemChoices(tx, workspaceId) : [],
      files: Math.max(1, Math.ceil((ids.length * box.languages.length) / SHEETS_A_PRINT)),
      today,
      currency,
      maySell,
      mayPrint: isAllowed(scope.role, 'care-sheet:print'),
    }
  })
}
export type ShowBoxPage = Awaited<ReturnType<typeof loadShowBoxPage>>

type AskedPapers = { id: string; paper: Paper | undefined; file: number; address: string }

/** What the papers of a box say, one file of them: tags and stand cards lie in the first. */
export function loadBoxPapers(
  slug: string,
  { id, paper, file, address }: AskedPapers,
): Promise<BoxPapersPayload> {
  return loadPage({ slug, permission: 'care-sheet:print' }, async ({ tx, workspace }) => {
    const { workspaceId, currency } = workspace
    const box = await requireShowBox(tx, workspaceId, requireIdParam(id))
    const open = box.animals.filter(({ end }) => end === null).map(({ individualId }) => individualId)
    const rows = (await loadBoxedAnimals(tx, workspace, { ids: open, ...box })).filter(
      ({ animal }) => animal.whereabouts === 'single',
    )
    const sorted = rows.toSorted(
      (a, b) => a.kind.localeCompare(b.kind) || a.animal.label.localeCompare(b.animal.label),
    )
    const ids = sorted.map(({ animal }) => animal.id)
    const languages = box.languages.filter(isLanguage)
    const wanted = languages.flatMap((language) => ids.map((each) => ({ language, id: each })))
    const from = (file - 1) * SHEETS_A_PRINT
    const mine = wanted.slice(from, from + SHEETS_A_PRINT)
    if (mine.length === 0) throw refuseUnknown('print job')
    const sheets = []
    for (const language of languages) {
      const own = mine.filter((one) => one.language === language).map((one) => one.id)
      if (own.length > 0)
        sheets.push(...(await loadCareSheets(tx, workspace, { ids: own, choice: { paper, language } })))
    }
    const cards = []
    if (file === 1) {
      const kinds = sorted.filter(({ kind }, index) => sorted.findIndex((one) => one.kind === kind) === index)
      for (const language of languages) {
        const ofKinds = kinds.map(({ animal }) => animal.id)
        const said = await loadCareSheets(tx, workspace, { ids: ofKinds, choice: { paper, language } })
        cards.push(...said.map((sheet, index) => ({ sheet, priceMinor: kinds[index]?.priceMinor ?? null })))
      }
    }
    return {
      ...{ name: box.name, number: box.number, currency, sheets, cards },
      paper: readSheetChoice({ paper }, workspace).paper,
      language: languages[0] ?? 'en',
      tags:
        file > 1
          ? []
          : sorted.map(({ animal, description, priceMinor }) => ({
              code: formatCode(animal.label),
              scientificName: animal.scientificName,
              words: description
                .split(', ')
                .slice(1)
                .join(', ')
                .replace(/ \(.*?\)/, ''),
              priceMinor,
              url: `${address}/w/${workspace.slug}/c/${formatCode(animal.label)}`,
            })),
    }
  })
}
