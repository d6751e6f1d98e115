import { Button } from '@/components/ui/button'
import { DateField } from '@/components/ui/date-field'
import { NumberField } from '@/components/ui/number-field'
import { Select } from '@/components/ui/select'
import type { HatchCheckPage } from '@/lib/features/hatch-check/loaders'

/** A plain form that asks for another address: nothing is recorded by asking. */
export function AskForm({ workspace, page }: { workspace: string; page: HatchCheckPage }) {
  const { asked, choices, today } = page
  return (
    <form
      action={`/w/${workspace}/egg-cases/check`}
      className="grid grid-cols-1 items-end gap-x-4 gap-y-3 desk:grid-cols-[repeat(4,minmax(0,1fr))_auto]"
    >
      <Select
        name="species"
        label="Species"
        placeholder="Choose the species"
        choices={choices.species}
        defaultValue={asked.species ?? ''}
      />
      <Select
        name="zone"
        label="Where it would hang"
        placeholder="Choose the zone"
        choices={choices.zones}
        defaultValue={asked.zone ?? ''}
      />
      <DateField
        aria-required={false}
        name="laidOn"
        label="Laid on, if known"
        max={today}
        defaultValue={asked.laidOn ?? ''}
      />
      <NumberField
        aria-required={false}
        name="nymphs"
        label="Nymphs, if you know better"
        isWhole
        defaultValue={asked.nymphs ?? ''}
      />
      <Button type="submit" kind="filled">
        Ask
      </Button>
    </form>
  )
}
