import { EmptyScreen } from '@/components/ui/empty-screen'
import { LatinName } from '@/components/ui/latin-name'
import { LinkButton } from '@/components/ui/link-button'
import { Notice } from '@/components/ui/notice'
import { PageHeader } from '@/components/ui/page-header'
import { loadSpeciesPage } from '@/lib/features/species/loaders'
import { CareValues } from './_components/care-values'
import { GROUPS } from './_components/groups'

export const metadata = { title: 'Species' }

type Props = { params: Promise<{ workspace: string; id: string }> }

export default async function SpeciesPage({ params }: Props) {
  const { workspace, id } = await params
  const { species, mayWrite, values, own, isFitFailing } = await loadSpeciesPage(workspace, id)
  const { commonName, profileNumber } = species
  return (
    <>
      <PageHeader
        title={<LatinName name={species.scientificName} />}
        facts={[commonName, profileNumber === null ? '' : `care profile, version ${profileNumber}`]
          .filter(Boolean)
          .join(' · ')}
        parent={{ href: `/w/${workspace}/species`, label: 'Species' }}
        actions={
          profileNumber === null ? null : (
            <LinkButton href={`/w/${workspace}/past-windows?species=${species.slug}`}>
              How good were our windows
            </LinkButton>
          )
        }
      />
      {profileNumber === null ? (
        <EmptyScreen title="No care profile">
          <p>
            Nobody has defined the instars of this species here, so nothing is forecast for it and no text
            about mantises is reused for it.
          </p>
        </EmptyScreen>
      ) : (
        <>
          <p className="mt-3 mb-6 max-w-2xl text-small text-soft">
            <strong className="text-ink">Default</strong> is common practice without one source.{' '}
            <strong className="text-ink">Published</strong> names who measured it. What you change is{' '}
            <strong className="text-ink">your own</strong>; forecasts and care sheets follow it from then on,
            and sheets already printed keep the version they were printed from.
            {own.length > 0
              ? ' Where your own records say something, it stands under the value with its range (8 of 10); forecasts use it already.'
              : ''}
          </p>
          {isFitFailing ? (
            <Notice
              state="due"
              what="Learning from your newest records did not work."
              why="Forecasts go on with what was learned before. It is tried again by itself; if this stays, tell whoever runs the service."
            />
          ) : null}
          {GROUPS.map(({ group, title }) => (
            <CareValues
              key={group}
              title={title}
              values={values.filter((value) => value.group === group)}
              own={own}
              edit={mayWrite ? { workspace, speciesId: species.id, version: profileNumber } : undefined}
            />
          ))}
        </>
      )}
    </>
  )
}
