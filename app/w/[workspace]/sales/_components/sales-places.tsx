import { SectionLinks } from '@/components/ui/section-links'

/** `isOpen`: also for who looks after the animals and sells none. */
const PLACES = [
  { path: '', label: 'Receipts' },
  { path: '/counter', label: 'Counter' },
  { path: '/buyers', label: 'Buyers' },
  { path: '/holds', label: 'Held and wished for', isOpen: true },
  { path: '/for-sale', label: 'For sale', isOpen: true },
  { path: '/prices', label: 'Prices', isOpen: true },
  { path: '/boxes', label: 'Show boxes' },
  { path: '/registers', label: 'Registers' },
]

type Props = { workspace: string; current: string; maySell?: boolean }

/** The pages of selling, from each of them. */
export function SalesPlaces({ workspace, current, maySell = true }: Props) {
  const pages = PLACES.filter(({ isOpen }) => maySell || isOpen)
  return <SectionLinks label="Sales pages" base={`/w/${workspace}/sales`} pages={pages} current={current} />
}
