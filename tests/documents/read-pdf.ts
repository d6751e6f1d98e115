import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs'

export type ReadPdf = {
  pages: { text: string; widthMm: number; heightMm: number; tags: string[]; alts: string[] }[]
  text: string
  title: unknown
  language: unknown
  isTagged: boolean
  accessibilityStandard: unknown
  fonts: { name: string; isEmbedded: boolean }[]
  links: string[]
}

type StructNode = { role?: string; alt?: string; children?: StructNode[] }

const MM_PER_POINT = 25.4 / 72

/** What a reader, a printer and a screen reader find in a PDF; spaces and line ends count as one space. */
export async function readPdf(bytes: Uint8Array): Promise<ReadPdf> {
  const document = await getDocument({ data: bytes.slice(), verbosity: 0, disableFontFace: true }).promise
  const read: ReadPdf = {
    pages: [],
    text: '',
    title: undefined,
    language: undefined,
    isTagged: false,
    accessibilityStandard: undefined,
    fonts: [],
    links: [],
  }
  for (let number = 1; number <= document.numPages; number += 1) {
    const page = await document.getPage(number)
    const items = (await page.getTextContent()).items
    const text = items.map((item) => ('str' in item ? item.str + (item.hasEOL ? ' ' : '') : '')).join('')
    const nodes = flatten((await page.getStructTree()) as StructNode | null)
    const viewport = page.getViewport({ scale: 1 })
    read.pages.push({
      text: text.replace(/\s+/g, ' ').trim(),
      widthMm: viewport.width * MM_PER_POINT,
      heightMm: viewport.height * MM_PER_POINT,
      tags: nodes.flatMap((node) => node.role ?? []),
      alts: nodes.flatMap((node) => node.alt ?? []),
    })
    for (const annotation of await page.getAnnotations()) if (annotation.url) read.links.push(annotation.url)
    read.fonts.push(...(await fontsOf(page)))
  }
  const { info, metadata } = await document.getMetadata()
  const known = info as Record<string, unknown>
  read.text = read.pages.map((page) => page.text).join('\n')
  read.title = known.Title
  read.language = known.Language
  read.isTagged = (await document.getMarkInfo())?.Marked === true
  read.accessibilityStandard = metadata?.get('pdfuaid:part')
  await document.destroy()
  return read
}

function flatten(node: StructNode | null): StructNode[] {
  return node ? [node, ...(node.children ?? []).flatMap(flatten)] : []
}

type PdfPage = Awaited<ReturnType<Awaited<ReturnType<typeof getDocument>['promise']>['getPage']>>

async function fontsOf(page: PdfPage): Promise<ReadPdf['fonts']> {
  const styles = (await page.getTextContent()).styles
  await page.getOperatorList()
  return Object.keys(styles).map((id) => {
    const font = page.commonObjs.get(id) as { name: string; missingFile?: boolean }
    return { name: font.name.replace(/^[A-Z]{6}\+/, ''), isEmbedded: font.missingFile !== true }
  })
}
