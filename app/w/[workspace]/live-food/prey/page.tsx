import { PageHeader } from '@/components/ui/page-header'
import { writeCount } from '@/lib/domain/calendar/wording'
import { loadPreyPage } from '@/lib/features/prey/loaders'
import { FoodPlaces } from '../_components/food-places'
import { AddLine } from './_components/add-line'
import { LineEntry } from './_components/line-entry'

export const metadata = { title: 'Prey lines' }

type Props = { params: Promise<{ workspace: string }> }

export default async function PreyPage({ params }: Props) {
  const { workspace } = await params
  const { mayWrite, lines } = await loadPreyPage(workspace)
  const kept = lines.filter((line) => line.kept)
  const rest = lines.filter((line) => !line.kept)
  const models = lines.map(({ slug, name }) => ({ value: slug, label: name }))
  const groups = [
    { title: 'Kept here', rows: kept },
    { title: 'Not kept', rows: rest },
  ].filter(({ rows }) => rows.length > 0)
  return (
    <>
      <PageHeader
        title="Prey lines"
        parent={{ href: `/w/${workspace}/live-food`, label: 'Live food' }}
        facts={`${writeCount(kept.length, 'line')} planned with`}
        actions={mayWrite ? <AddLine workspace={workspace} models={models} /> : null}
      />
      <FoodPlaces workspace={workspace} current="/prey" />
      {groups.map(({ title, rows }) => (
        <section key={title} className="mt-6">
          <h2>{title}</h2>
          <ul aria-label={title} className="divide-y divide-line border-line border-y">
            {rows.map((line) => (
              <LineEntry key={line.slug} {...{ workspace, mayWrite, line }} />
            ))}
          </ul>
        </section>
      ))}
    </>
  )
}
