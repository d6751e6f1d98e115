import { Button } from '@/components/ui/button'
import { LinkButton } from '@/components/ui/link-button'
import { Select } from '@/components/ui/select'
import { TextField } from '@/components/ui/text-field'
import type { IndividualListPage } from '@/lib/features/individual/loaders'
import { WHEREABOUTS, WHEREABOUTS_WORDS } from '@/lib/features/individual/schema'

const STATES = [
  ...WHEREABOUTS.map((value) => ({ value, label: WHEREABOUTS_WORDS[value] })),
  { value: 'any', label: 'Anywhere' },
]
const SEX_CHOICES = [
  { value: 'female', label: '♀ female' },
  { value: 'male', label: '♂ male' },
  { value: 'unsexed', label: '? unsexed' },
]

/** A plain form that asks for another address: it works before any script has loaded, and can be bookmarked. */
export function AnimalFilter({ workspace, page }: { workspace: string; page: IndividualListPage }) {
  const { query, choices } = page
  return (
    <form
      action={`/w/${workspace}/individuals`}
      className="no-print grid grid-cols-2 items-end gap-x-4 gap-y-3 border-line border-b py-4 desk:grid-cols-[repeat(6,minmax(0,1fr))_auto]"
    >
      <TextField name="label" label="Label" aria-required={false} defaultValue={query.label ?? ''} />
      <Select
        aria-required={false}
        name="species"
        label="Species"
        placeholder="All"
        choices={choices.species}
        defaultValue={query.species ?? ''}
      />
      <Select
        aria-required={false}
        name="instar"
        label="Stage"
        placeholder="All"
        choices={choices.stages}
        defaultValue={String(query.instar ?? '')}
      />
      <Select
        aria-required={false}
        name="sex"
        label="Sex"
        placeholder="All"
        choices={SEX_CHOICES}
        defaultValue={query.sex ?? ''}
      />
      <Select
        aria-required={false}
        name="zone"
        label="Zone"
        placeholder="All"
        choices={choices.zones}
        defaultValue={query.zone ?? ''}
      />
      <Select
        aria-required={false}
        name="state"
        label="Where"
        choices={STATES}
        defaultValue={query.state ?? 'any'}
      />
      <div className="col-span-2 flex gap-2 desk:col-span-1">
        <Button type="submit">Show</Button>
        {page.isFiltered ? (
          <LinkButton href={`/w/${workspace}/individuals`} kind="quiet">
            All
          </LinkButton>
        ) : null}
      </div>
    </form>
  )
}
