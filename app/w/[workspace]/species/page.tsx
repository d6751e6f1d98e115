import Link from 'next/link'
import { LatinName } from '@/components/ui/latin-name'
import { LinkButton } from '@/components/ui/link-button'
import { PageHeader } from '@/components/ui/page-header'
import { loadSpeciesListPage, type SpeciesOnPage } from '@/lib/features/species/loaders'
import { AddSpecies } from './_components/add-species'

export const metadata = { title: 'Species' }

type Props = { params: Promise<{ workspace: string }> }

export default async function SpeciesListPage({ params }: Props) {
  const { workspace } = await params
  const { workspaceName, mayWrite, species } = await loadSpeciesListPage(workspace)
  const models = species
    .filter((row) => row.profileNumber !== null)
    .map((row) => ({ value: row.id, label: row.scientificName }))
  return (
    <>
      <PageHeader
        title="Species"
        facts={`${workspaceName} · ${species.length} with what is known of keeping them`}
        actions={
          <>
            <LinkButton href={`/w/${workspace}/past-windows`}>How good were our windows</LinkButton>
            {mayWrite ? <AddSpecies workspace={workspace} models={models} /> : null}
          </>
        }
      />
      <ul aria-label="Species" className="divide-y divide-line">
        {species.map((row) => (
          <li key={row.id}>
            <Link
              href={`/w/${workspace}/species/${row.slug}`}
              prefetch={false}
              className="target flex flex-wrap items-baseline justify-between gap-x-6 py-2.5 no-underline hover:bg-wash"
            >
              <span className="text-lead underline underline-offset-4">
                <LatinName name={row.scientificName} />
              </span>
              <span className="text-small text-soft">{sayFacts(row)}</span>
            </Link>
          </li>
        ))}
      </ul>
    </>
  )
}

function sayFacts({ commonName, kind, profileNumber, published, own }: SpeciesOnPage): string {
  const facts = [
    commonName,
    kind === 'other' ? 'no care profile' : '',
    published > 0 ? `${published} published` : '',
    own > 0 ? `${own} of your own` : '',
    profileNumber !== null && profileNumber > 1 ? `version ${profileNumber}` : '',
  ]
  return facts.filter(Boolean).join(' · ')
}
