import type { SheetContent } from '@/lib/documents/care-sheet/content'
import type { Section } from '@/lib/documents/care-sheet/parts'

/**
 * The same sheet as a page for a browser to print: same words, same photo, same code, the calendar as a grid. For a
 * comparison of speed; what browsers print carries no promise of one page.
 */
export function sheetHtml(sheet: SheetContent, pictures: { photo: Uint8Array; qr: string }): string {
  const photo = `data:image/jpeg;base64,${Buffer.from(pictures.photo).toString('base64')}`
  return `<!doctype html><html lang="${sheet.language}"><head><meta charset="utf-8"><style>${STYLE}</style></head><body>
    <p>${sheet.kicker.map(escaped).join(' · ')} <b>${escaped(sheet.labelCode)}</b></p>
    <img class="photo" alt="${escaped(sheet.photo.alt)}" src="${photo}">
    <h1>${escaped(sheet.name ?? '')}</h1><p><i>${sheet.latin.map(({ text }) => escaped(text)).join(' ')}</i></p>
    ${sheet.lines.map((line) => `<p>${escaped(line)}</p>`).join('')}
    <p>${sheet.facts.map(({ term, text }) => `${escaped(term)} ${escaped(text)}`).join(' ')}</p>
    <div class="two">${sheet.sections.map((section) => sectionHtml(section)).join('')}</div>
    ${calendarHtml(sheet)}
    <div class="two">${sheet.boxes.map((section) => `<div class="box">${sectionHtml(section)}</div>`).join('')}</div>
    <p>${sheet.foot.sentences.map(({ text }) => escaped(text)).join(' ')} ${escaped(sheet.foot.contact ?? '')}</p>
    <p>${escaped(sheet.page?.url ?? '')}</p><div class="qr">${pictures.qr}</div></body></html>`
}

const STYLE = `body{font:9.5pt sans-serif}h1{font-size:24pt}h2{font-size:11pt}.two{display:grid;grid-template-columns:1fr 1fr;gap:1em}
.box{border:1px solid;padding:.5em}.photo,.qr{width:9em;float:right}.weeks{display:grid;grid-template-columns:repeat(28,1fr)}
.moult{background:#e3cf8d}`

function sectionHtml({ heading, sentences }: Section): string {
  return `<section><h2>${escaped(heading)}</h2><p>${sentences.map(({ text }) => escaped(text)).join(' ')}</p></section>`
}

function calendarHtml({ calendar }: SheetContent): string {
  if (!calendar) return ''
  const days = calendar.weeks.flatMap((week) => week.days)
  const cells = days.map(
    ({ number, kind }) => `<span class="${kind}">${number}${kind === 'feed' ? '●' : ''}</span>`,
  )
  return `<h2>${escaped(calendar.heading)}</h2><div class="weeks">${cells.join('')}</div><p>${escaped(calendar.windows ?? '')}</p>`
}

function escaped(text: string): string {
  return text.replace(/[&<>"]/g, (sign) => `&#${sign.codePointAt(0)};`)
}
