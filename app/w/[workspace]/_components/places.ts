import type { Place } from '@/components/shell/navigation'
import type { Permission } from '@/lib/domain/role/permissions'

type Known = { path: string; label: string; permission: Permission; isExact?: boolean; also?: string[] }

const PLACES: Known[] = [
  { path: '', label: 'Day sheet', permission: 'day-sheet:read', isExact: true },
  { path: '/clutches', label: 'Clutches', permission: 'clutch:read', also: ['/separation-plan', '/trays'] },
  {
    path: '/individuals',
    label: 'Animals',
    permission: 'individual:read',
    also: ['/hand-overs', '/sheet-batches', '/sheet-lots'],
  },
  { path: '/sales/counter', label: 'Counter', permission: 'sale:write' },
  { path: '/moult-round', label: 'Moult round', permission: 'individual:write' },
  { path: '/egg-cases', label: 'Egg cases', permission: 'egg-case:read' },
  { path: '/room', label: 'Room forecast', permission: 'individual:read' },
  { path: '/live-food', label: 'Live food', permission: 'live-food:read' },
  { path: '/zones', label: 'Zones', permission: 'zone:read', also: ['/incidents'] },
  { path: '/containers', label: 'Containers', permission: 'container:read', also: ['/housing', '/colonies'] },
  { path: '/species', label: 'Species', permission: 'species:read', also: ['/past-windows'] },
  { path: '/orders', label: 'Orders', permission: 'order:read' },
  { path: '/sales', label: 'Sales', permission: 'sale:read' },
  { path: '/sales/holds', label: 'Held and wished for', permission: 'reservation:read' },
  { path: '/people', label: 'People', permission: 'person:manage' },
  {
    path: '/settings',
    label: 'Workspace',
    permission: 'workspace:write',
    also: ['/tokens', '/audit', '/mails'],
  },
]

/** What stands in the navigation, in the order in which the work comes; the first four are a phone's bar. */
export function listPlaces(workspace: string): Place[] {
  const address = (path: string) => `/w/${workspace}${path}`
  return PLACES.map(({ path, also, ...place }) => ({
    ...place,
    href: address(path),
    also: also?.map(address),
  }))
}
