import { EmptyScreen } from '@/components/ui/empty-screen'
import { LinkButton } from '@/components/ui/link-button'
import { PageHeader } from '@/components/ui/page-header'
import { loadNewEggCase } from '@/lib/features/egg-case/loaders'
import { NewEggCaseForm } from '../_components/new-egg-case-form'

export const metadata = { title: 'Record an egg case' }

type Props = {
  params: Promise<{ workspace: string }>
  searchParams: Promise<{ colony?: string | string[] }>
}

export default async function NewEggCase({ params, searchParams }: Props) {
  const { workspace } = await params
  const { species, zones, today, colonies } = await loadNewEggCase(workspace)
  const asked = (await searchParams).colony
  const found = colonies.find(({ id }) => id === asked)
  const parent = { href: `/w/${workspace}/egg-cases`, label: 'Egg cases' }
  if (zones.length === 0)
    return (
      <>
        <PageHeader title="Record an egg case" parent={parent} />
        <EmptyScreen
          title="Where does it hang?"
          action={
            <LinkButton href={`/w/${workspace}/zones`} kind="filled">
              Add a zone
            </LinkButton>
          }
        >
          <p>The hatch window comes from the warmth it has had. Add the room or shelf first.</p>
        </EmptyScreen>
      </>
    )
  return (
    <>
      <PageHeader title="Record an egg case" parent={parent} />
      <NewEggCaseForm
        workspace={workspace}
        today={today}
        species={species.map(({ slug, scientificName, commonName }) => ({
          value: slug,
          label: commonName ? `${scientificName} (${commonName})` : scientificName,
        }))}
        zones={zones.map(({ id, name }) => ({ value: id, label: name }))}
        colonies={colonies.map(({ id, name }) => ({ value: id, label: name }))}
        found={
          found && {
            colony: found.id,
            zone: found.zoneId,
            species: species.find(({ id }) => id === found.speciesId)?.slug,
          }
        }
      />
    </>
  )
}
