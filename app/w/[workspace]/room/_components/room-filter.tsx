import { Button } from '@/components/ui/button'
import { Select } from '@/components/ui/select'
import type { RoomForecastPage } from '@/lib/features/room-forecast/loaders'

const SPANS = [8, 16, 26, 52].map((weeks) => ({ value: String(weeks), label: `${weeks} weeks` }))

/** A plain form that asks for another address: it works before any script has loaded, and can be bookmarked. */
export function RoomFilter({ workspace, page }: { workspace: string; page: RoomForecastPage }) {
  const { query, choices } = page
  const known = SPANS.some(({ value }) => value === String(query.weeks))
  const spans = known ? SPANS : [{ value: String(query.weeks), label: `${query.weeks} weeks` }, ...SPANS]
  return (
    <form
      action={`/w/${workspace}/room`}
      className="no-print grid grid-cols-2 items-end gap-x-4 gap-y-3 border-line border-b py-4 desk:grid-cols-[minmax(0,2fr)_minmax(0,1fr)_auto]"
    >
      <Select
        aria-required={false}
        name="species"
        label="Species"
        placeholder="All"
        choices={choices}
        defaultValue={query.species}
      />
      <Select
        aria-required={false}
        name="weeks"
        label="How far"
        choices={spans}
        defaultValue={String(query.weeks)}
      />
      <div className="col-span-2 desk:col-span-1">
        <Button type="submit">Show</Button>
      </div>
    </form>
  )
}
