import { SectionLinks } from '@/components/ui/section-links'

const PLACES = [
  { path: '', label: 'Open' },
  { path: '?state=left', label: 'Left' },
  { path: '?state=cancelled', label: 'Taken back' },
  { path: '/sending', label: 'How we send' },
]

/** The lists of orders, and what bounds their days. */
export function OrderPlaces({ workspace, current }: { workspace: string; current: string }) {
  return <SectionLinks label="Order pages" base={`/w/${workspace}/orders`} pages={PLACES} current={current} />
}
