import Link from 'next/link'
import { buttonStyle } from '@/components/ui/button-style'
import { FactList } from '@/components/ui/fact-list'
import { LatinName } from '@/components/ui/latin-name'
import { PageHeader } from '@/components/ui/page-header'
import { writeCount, writeDay } from '@/lib/domain/calendar/wording'
import { loadTrayPage } from '@/lib/features/tray/loaders'
import { FeedTray } from './_components/feed-tray'
import { MoultTray } from './_components/moult-tray'
import { TakeOut } from './_components/take-out'

export const metadata = { title: 'Tray' }

type Props = { params: Promise<{ workspace: string; id: string }> }

export default async function Tray({ params }: Props) {
  const { workspace, id } = await params
  const page = await loadTrayPage(workspace, id)
  const { tray, count, today, stages, zones, kinds, lastFedOn, scientificName } = page
  return (
    <>
      <PageHeader
        title={
          <>
            {tray.label}{' '}
            <span className="font-normal">
              <LatinName name={scientificName} />
            </span>
          </>
        }
        facts={
          count > 0
            ? `${writeCount(count, 'animal')} in cups of their own, kept as one`
            : 'Nobody stands here any more'
        }
        parent={{ href: `/w/${workspace}/clutches/${tray.clutchId}`, label: `Clutch ${tray.clutchLabel}` }}
        actions={
          count > 0 ? (
            <a href={`/w/${workspace}/trays/${tray.id}/label.pdf`} className={buttonStyle({ kind: 'plain' })}>
              Print its label
            </a>
          ) : null
        }
      />
      {page.mayWrite && count > 0 ? (
        <div className="no-print mt-5 flex flex-wrap gap-2">
          <MoultTray workspace={workspace} page={page} />
          <FeedTray workspace={workspace} page={page} />
          <TakeOut workspace={workspace} page={page} />
        </div>
      ) : null}
      <div className="mt-6 max-w-2xl">
        <FactList
          facts={[
            ...stages.map((stage) => ({ term: stage.label, value: String(stage.count) })),
            ...(zones.length > 0 ? [{ term: 'Stands in', value: zones.join(', ') }] : []),
            ...(kinds.length > 0 ? [{ term: 'Cups', value: kinds.join(', ') }] : []),
            { term: 'Since', value: writeDay(tray.on, today) },
            ...(lastFedOn ? [{ term: 'Last fed', value: writeDay(lastFedOn, today) }] : []),
          ]}
        />
        <p className="mt-3 text-small text-soft">
          Nobody tells these cups apart, so what is seen of some of them is recorded of any in the right
          instar. Each is an animal on record all the same: they count in every forecast, and{' '}
          <Link href={`/w/${workspace}/individuals`}>the list of animals</Link> has them.
        </p>
      </div>
    </>
  )
}
