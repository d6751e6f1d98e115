import type { Metadata } from 'next'
import { PlainFrame } from '@/components/shell/plain-frame'
import { FactList } from '@/components/ui/fact-list'
import { loadPublicPage, type PublicPage as Page } from '@/lib/features/public-link/loaders'
import { LanguageChoice } from './_components/language-choice'
import { SheetSection } from './_components/sheet-section'
import { SheetWeeks } from './_components/sheet-weeks'
import { TodayPart } from './_components/today-part'

type Props = { params: Promise<{ token: string }>; searchParams: Promise<{ language?: string | string[] }> }

export const metadata: Metadata = {
  title: 'Care sheet',
  robots: { index: false, follow: false },
  referrer: 'no-referrer',
}

/** The page behind the code on a care sheet: the sheet's own words, as they are today. */
export default async function PublicPage({ params, searchParams }: Props) {
  const { token } = await params
  const { language } = await searchParams
  const { sheet, today, hasPhoto } = await loadPublicPage(
    token,
    typeof language === 'string' ? language : undefined,
  )
  const latin = sheet.latin.map((part) =>
    part.isItalic ? (
      <i key={part.text} className="latin">{`${part.text} `}</i>
    ) : (
      <span key={part.text}>{`${part.text} `}</span>
    ),
  )
  return (
    <PlainFrame aside={<LanguageChoice token={token} present={sheet.language} />}>
      <article lang={sheet.language}>
        <header className="border-ink border-b-2 pb-3">
          <p className="text-small text-soft">{sheet.kicker.join(' · ')}</p>
          <h1 className="mt-1">{sheet.name ?? latin}</h1>
          {sheet.name ? <p className="font-name text-lead">{latin}</p> : null}
          {sheet.lines.map((line) => (
            <p key={line} className="mt-1">
              {line}
            </p>
          ))}
          <p className="mt-1 text-small text-soft">
            {sheet.labelTerm} <strong className="text-ink">{sheet.labelCode}</strong>
          </p>
        </header>
        {hasPhoto ? (
          // biome-ignore lint/performance/noImgElement: an optimiser would keep copies behind a public address
          <img
            src={`/p/${token}/photo.jpg`}
            alt={sheet.photo.alt}
            className="mt-4 max-h-96 rounded-edge border border-line"
          />
        ) : null}
        <TodayPart today={today} token={token} language={sheet.language} />
        <div className="mt-5">
          <FactList facts={sheet.facts.map(({ term, text }) => ({ term, value: text }))} />
        </div>
        {sheet.sections.map((section) => (
          <SheetSection key={section.heading} section={section} />
        ))}
        {sheet.calendar ? <SheetWeeks calendar={sheet.calendar} /> : null}
        {sheet.boxes.map((section) => (
          <SheetSection key={section.heading} section={section} isBoxed />
        ))}
        <SheetFoot sheet={sheet} />
      </article>
    </PlainFrame>
  )
}

function SheetFoot({ sheet }: { sheet: Page['sheet'] }) {
  const { sentences, terms, contact, small } = sheet.foot
  return (
    <footer className="mt-8 space-y-2 border-ink border-t-2 pt-3">
      {sentences.map(({ text }) => (
        <p key={text}>{text}</p>
      ))}
      {contact ? <p className="font-semibold">{contact}</p> : null}
      {terms ? <p className="text-small">{terms}</p> : null}
      <p className="text-fine-print text-soft">{small}</p>
    </footer>
  )
}
