import { EmptyScreen } from '@/components/ui/empty-screen'
import { PageHeader } from '@/components/ui/page-header'
import { writeCount } from '@/lib/domain/calendar/wording'
import { loadCulturesPage } from '@/lib/features/culture/loaders'
import { FlyCautions } from '../_components/cautions'
import { FoodPlaces } from '../_components/food-places'
import { batchesOf, JarBatch } from './_components/jar-batch'
import { StartJars } from './_components/start-jars'

export const metadata = { title: 'Jars' }

type Props = { params: Promise<{ workspace: string }> }

export default async function JarsPage({ params }: Props) {
  const { workspace } = await params
  const page = await loadCulturesPage(workspace)
  const { shelves, places, today, mayWrite, lines, zones, sources } = page
  const suspects = shelves.flatMap(({ jars }) => jars).filter(({ suspectWords }) => suspectWords)
  const canStart = mayWrite && lines.length > 0 && zones.length > 0
  const start = canStart ? <StartJars {...{ workspace, today, lines, zones, sources }} /> : null
  return (
    <>
      <PageHeader
        title="Jars"
        parent={{ href: `/w/${workspace}/live-food`, label: 'Live food' }}
        facts={sayFacts(places, suspects.length)}
        actions={places > 0 ? start : null}
      />
      <FoodPlaces workspace={workspace} current="/cultures" />
      {places === 0 ? (
        <EmptyScreen title="No jar on the shelf" action={start}>
          <p>
            Record the jars that stand there, each with the day it was started. Then this page says when they
            will give flies, and the plan says which to start next. Without a zone there is no telling: how
            warm it stands decides the day.
          </p>
        </EmptyScreen>
      ) : (
        shelves.map(({ key, zoneName, shelf, jars }) => (
          <section key={key} className="mt-6">
            <h2>{[zoneName, shelf].filter(Boolean).join(', ')}</h2>
            <ul
              aria-label={`Jars: ${zoneName} ${shelf}`}
              className="divide-y divide-line border-line border-y"
            >
              {batchesOf(jars).map((batch) => (
                <JarBatch key={batch[0]?.jar.id} {...{ workspace, today, mayWrite }} jars={batch} />
              ))}
            </ul>
          </section>
        ))
      )}
      <div className="mt-10">
        <FlyCautions />
      </div>
    </>
  )
}

function sayFacts(places: number, suspects: number): string {
  const stand = `${writeCount(places, 'jar')} on the shelf`
  return suspects === 0 ? stand : `${stand}, ${suspects} of them suspect`
}
