import { SectionLinks } from '@/components/ui/section-links'

const PLACES = [
  { path: '', label: 'Needed and coming' },
  { path: '/plan', label: 'Plan' },
  { path: '/cultures', label: 'Jars' },
  { path: '/prey', label: 'Prey lines' },
  { path: '/bounds', label: 'Others, days, limits' },
]

/** The pages of live food, from each of them. */
export function FoodPlaces({ workspace, current }: { workspace: string; current: string }) {
  return (
    <SectionLinks label="Live food" base={`/w/${workspace}/live-food`} pages={PLACES} current={current} />
  )
}
