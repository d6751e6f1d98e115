import { EmptyScreen } from '@/components/ui/empty-screen'
import { LinkButton } from '@/components/ui/link-button'
import { Notice } from '@/components/ui/notice'
import { PageHeader } from '@/components/ui/page-header'
import { StateMark } from '@/components/ui/state-mark'
import { writeCount } from '@/lib/domain/calendar/wording'
import { type LiveFoodPage, loadLiveFoodPage } from '@/lib/features/food-demand/loaders'
import { FlyCautions } from './_components/cautions'
import { DemandPicture } from './_components/demand-picture'
import { FoodPlaces } from './_components/food-places'
import { SettleOrder } from './_components/settle-order'

export const metadata = { title: 'Live food' }

type Props = { params: Promise<{ workspace: string }> }

export default async function LiveFood({ params }: Props) {
  const { workspace } = await params
  const page = await loadLiveFoodPage(workspace)
  const { outlooks, today, jars } = page
  const short = outlooks.filter(({ isShort }) => isShort)
  return (
    <>
      <PageHeader
        title="Live food"
        facts={sayFacts(page, short.length)}
        actions={
          <LinkButton href={`/w/${workspace}/live-food/cultures`} kind="filled">
            The shelf
          </LinkButton>
        }
      />
      <FoodPlaces workspace={workspace} current="" />
      <Notes workspace={workspace} page={page} />
      {outlooks.length === 0 ? (
        <EmptyScreen title={jars === 0 ? 'No mouths and no jars yet' : 'Nobody eats yet'}>
          <p>
            As soon as animals or egg cases are recorded, this page says how many flies they will want in each
            week, and whether the jars on the shelf give them.
          </p>
        </EmptyScreen>
      ) : (
        outlooks.map((outlook) => (
          <section key={outlook.line} aria-label={outlook.name} className="mt-8">
            <h2>{outlook.name}: needed and coming</h2>
            <p className="mb-2">
              <StateMark state={outlook.isShort ? 'late' : 'fine'} word={outlook.words} />
            </p>
            <DemandPicture outlook={outlook} today={today} />
          </section>
        ))
      )}
      <div className="mt-10">
        <FlyCautions />
      </div>
    </>
  )
}

function sayFacts({ workspaceName, jars }: LiveFoodPage, short: number): string {
  const shortage = short === 0 ? 'nothing runs short' : `${writeCount(short, 'line')} will run short`
  return `${workspaceName} · ${writeCount(jars, 'jar')} on the shelf · ${shortage}`
}

/** The others are on the shelf's page. */
const NAMED_JARS = 4

/** What somebody should know before the pictures: order days lost, suspect jars, orders late, mouths nothing feeds. */
function Notes({ workspace, page }: { workspace: string; page: LiveFoodPage }) {
  const { cutOffs, suspects, orders, unfed, leftOut, mayWrite } = page
  const names = suspects.slice(0, NAMED_JARS).map(({ label }) => label)
  const others = suspects.length > NAMED_JARS ? ` and ${suspects.length - NAMED_JARS} more` : ''
  return (
    <div className="mt-4 max-w-3xl space-y-3">
      {cutOffs.map(({ line, words }) => (
        <Notice key={line} state="due" what={words} />
      ))}
      {suspects.length > 0 ? (
        <Notice
          state="due"
          what={`${writeCount(suspects.length, 'jar')} under suspicion of mites: ${names.join(', ')}${others}.`}
          why="Feed them out, take no starters, replace them from clean jars. Less of them is counted on."
        />
      ) : null}
      {unfed.map(({ species, stage, animals }) => (
        <Notice
          key={`${species}-${stage}`}
          state="late"
          what={`No line kept here feeds ${species}, ${stage} (up to ${Math.round(animals)}).`}
          next={<LinkButton href={`/w/${workspace}/live-food/prey`}>Choose a line</LinkButton>}
        />
      ))}
      {leftOut.animals > 0 ? (
        <p className="text-small text-soft">
          {writeCount(leftOut.animals, 'animal')} could not be counted: no care profile, or no temperature
          where they stand.
        </p>
      ) : null}
      {orders.length > 0 ? (
        <ul aria-label="On order" className="divide-y divide-line border-line border-y">
          {orders.map(({ id, version, words, isLate }) => (
            <li key={id} className="flex flex-wrap items-center justify-between gap-x-4">
              <StateMark state={isLate ? 'due' : 'fine'} word={words} />
              {mayWrite ? (
                <SettleOrder workspace={workspace} order={id} version={version} words={words} />
              ) : null}
            </li>
          ))}
        </ul>
      ) : null}
    </div>
  )
}
