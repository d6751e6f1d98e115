import Link from 'next/link'
import { roundFlies } from '@/lib/domain/culture/shelf'
import type { PreyLineOnPage } from '@/lib/features/prey/loaders'
import { KeepLine } from './keep-line'

const KINDS = { culture: 'cultured here', pupae: 'bought as pupae', bought: 'bought by size' }

type Props = { workspace: string; mayWrite: boolean; line: PreyLineOnPage }

export function LineEntry({ workspace, mayWrite, line }: Props) {
  return (
    <li className="flex flex-wrap items-center justify-between gap-x-4 py-1.5">
      <div className="min-w-0">
        <Link
          href={`/w/${workspace}/live-food/prey/${line.slug}`}
          prefetch={false}
          className="target inline-flex items-center font-semibold"
        >
          {line.name}
        </Link>
        <p className="text-small text-soft">{sayFacts(line)}</p>
      </div>
      {mayWrite ? <KeepLine workspace={workspace} line={line} /> : null}
    </li>
  )
}

function sayFacts({ kind, own, learned }: PreyLineOnPage): string {
  const facts = [
    KINDS[kind],
    own > 0 ? `${own} figures of your own` : 'all figures default or published',
    learned && learned.cultures > 0
      ? `about ${roundFlies(learned.mean)} a jar here, from ${learned.cultures} jars`
      : '',
  ]
  return facts.filter(Boolean).join(' · ')
}
