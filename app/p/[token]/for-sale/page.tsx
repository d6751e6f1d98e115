import type { Metadata } from 'next'
import { PlainFrame } from '@/components/shell/plain-frame'
import { type Column, DataTable } from '@/components/ui/data-table'
import type { ForSaleContent } from '@/lib/documents/for-sale/content'
import { loadPublicForSale } from '@/lib/features/public-link/loaders'
import { LanguageChoice } from '../_components/language-choice'

type Props = { params: Promise<{ token: string }>; searchParams: Promise<{ language?: string | string[] }> }
type Line = ForSaleContent['species'][number]['lines'][number]

export const metadata: Metadata = {
  title: 'For sale',
  robots: { index: false, follow: false },
  referrer: 'no-referrer',
}

/** What is for sale today, for whoever was given this address. */
export default async function PublicForSale({ params, searchParams }: Props) {
  const { token } = await params
  const { language } = await searchParams
  const list = await loadPublicForSale(token, typeof language === 'string' ? language : undefined)
  return (
    <PlainFrame aside={<LanguageChoice token={token} present={list.language} path="/for-sale" />}>
      <article lang={list.language}>
        <header className="border-ink border-b-2 pb-3">
          <p className="text-small text-soft">{list.seller}</p>
          <h1 className="mt-1">{list.title}</h1>
          <p className="mt-1 text-small text-soft">{list.asOf}</p>
        </header>
        {list.species.length === 0 ? <p className="mt-5">{list.nothing}</p> : null}
        {list.species.map(({ scientificName, lines }) => (
          <section key={scientificName} className="mt-6">
            <h2>
              <i className="latin">{scientificName}</i>
            </h2>
            <DataTable
              caption={scientificName}
              columns={columnsOf(list)}
              rows={lines}
              rowKey={({ stage, sex }) => `${stage} ${sex}`}
            />
          </section>
        ))}
        <footer className="mt-8 space-y-2 border-ink border-t-2 pt-3">
          {list.contact ? <p className="whitespace-pre-line font-semibold">{list.contact}</p> : null}
          {list.notes.map((note) => (
            <p key={note} className="text-small">
              {note}
            </p>
          ))}
        </footer>
      </article>
    </PlainFrame>
  )
}

function columnsOf({ heads }: ForSaleContent): Column<Line>[] {
  return [
    { head: heads.stage, isRowHead: true, cell: ({ stage }) => stage },
    { head: heads.sex, cell: ({ sex }) => sex },
    { head: heads.available, isFigure: true, cell: ({ available }) => available },
    { head: heads.price, isFigure: true, cell: ({ price }) => price },
  ]
}
