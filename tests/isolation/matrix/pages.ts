import type { Permission } from '@/lib/domain/role/permissions'
import { invitationToken } from '@/lib/platform/invitation-link'
import { publicLinkToken } from '@/lib/platform/secret'
import type { Ids } from '../calls/call'
import type { Stock } from '../stock'

/**
 * How a page is guarded: by a permission in the workspace of its address, by being signed in, by the secret in its
 * address, or not at all.
 */
export type Guard = Permission | 'signed-in' | 'secret' | 'everybody'
export type PageRow = { guard: Guard; address: (slug: string, id: Ids, stock: Stock) => string }

const inside = (guard: Permission, rest: (id: Ids) => string): PageRow => ({
  guard,
  address: (slug, id) => `/w/${slug}${rest(id)}`,
})
const fixed = (guard: Guard, address: string): PageRow => ({ guard, address: () => address })

export const PAGES: Record<string, PageRow> = {
  '/': fixed('everybody', '/'),
  '/sign-in': fixed('everybody', '/sign-in'),
  '/sign-up': fixed('everybody', '/sign-up'),
  '/api/v1/docs': fixed('everybody', '/api/v1/docs'),
  '/reset-password': fixed('everybody', '/reset-password'),
  // With a link that leads nowhere: everybody is told so alike. What an open one does is tried in tests/features.
  '/reset-password/[token]': fixed('everybody', `/reset-password/${'x'.repeat(43)}`),
  '/confirm/[token]': fixed('everybody', `/confirm/${'x'.repeat(43)}`),
  '/account': fixed('signed-in', '/account'),
  '/bench': fixed('everybody', '/bench'),
  '/stall': fixed('everybody', '/stall'),
  '/devices': fixed('signed-in', '/devices'),
  '/workspaces/new': fixed('signed-in', '/workspaces/new'),
  '/workspaces/restore': fixed('signed-in', '/workspaces/restore'),
  '/p/[token]': {
    guard: 'secret',
    address: (_slug, _id, { rows }) => `/p/${publicLinkToken(String(rows.get('public_link')?.id), 1)}`,
  },
  '/p/[token]/calendar.ics': {
    guard: 'secret',
    address: (_slug, _id, { rows }) =>
      `/p/${publicLinkToken(String(rows.get('public_link')?.id), 1)}/calendar.ics`,
  },
  '/p/[token]/for-sale': {
    guard: 'secret',
    address: (_slug, _id, { workspaceId }) => `/p/${publicLinkToken(workspaceId, 1)}/for-sale`,
  },
  '/p/[token]/photo.jpg': {
    guard: 'secret',
    address: (_slug, _id, { rows }) =>
      `/p/${publicLinkToken(String(rows.get('public_link')?.id), 1)}/photo.jpg`,
  },
  '/invitation/[token]': {
    guard: 'secret',
    address: (_slug, _id, { rows }) => `/invitation/${invitationToken(String(rows.get('invitation')?.id))}`,
  },
  '/w/[workspace]': inside('day-sheet:read', () => ''),
  '/w/[workspace]/audit': inside('audit:read', () => '/audit'),
  '/w/[workspace]/c/[code]': inside('individual:read', (id) => `/c/${id.label}`),
  '/w/[workspace]/moult-round': inside('individual:write', () => '/moult-round'),
  '/w/[workspace]/clutches': inside('clutch:read', () => '/clutches'),
  '/w/[workspace]/clutches/[id]': inside('clutch:read', (id) => `/clutches/${id.clutch}`),
  '/w/[workspace]/clutches/[id]/bench': inside('clutch:write', (id) => `/clutches/${id.clutch}/bench`),
  '/w/[workspace]/clutches/[id]/bench/[run]/labels.pdf': inside(
    'clutch:read',
    (id) => `/clutches/${id.clutch}/bench/${id.separation}/labels.pdf`,
  ),
  '/w/[workspace]/colonies': inside('clutch:read', () => '/colonies'),
  '/w/[workspace]/colonies/[id]': inside('clutch:read', (id) => `/colonies/${id.colony}`),
  '/w/[workspace]/containers': inside('container:read', () => '/containers'),
  '/w/[workspace]/egg-cases': inside('egg-case:read', () => '/egg-cases'),
  '/w/[workspace]/egg-cases/[id]': inside('egg-case:read', (id) => `/egg-cases/${id.eggCase}`),
  '/w/[workspace]/egg-cases/check': inside('egg-case:read', () => '/egg-cases/check'),
  '/w/[workspace]/egg-cases/new': inside('egg-case:write', () => '/egg-cases/new'),
  '/w/[workspace]/housing': inside('container:read', () => '/housing'),
  '/w/[workspace]/individuals': inside('individual:read', () => '/individuals'),
  '/w/[workspace]/individuals/[id]': inside('individual:read', (id) => `/individuals/${id.individual}`),
  '/w/[workspace]/individuals/new': inside('individual:write', () => '/individuals/new'),
  '/w/[workspace]/past-windows': inside('individual:read', (id) => `/past-windows?clutch=${id.clutch}`),
  '/w/[workspace]/live-food': inside('live-food:read', () => '/live-food'),
  '/w/[workspace]/live-food/bounds': inside('live-food:read', () => '/live-food/bounds'),
  '/w/[workspace]/live-food/cultures': inside('live-food:read', () => '/live-food/cultures'),
  '/w/[workspace]/live-food/cultures/[id]': inside(
    'live-food:read',
    (id) => `/live-food/cultures/${id.culture}`,
  ),
  '/w/[workspace]/live-food/plan': inside('live-food:read', () => '/live-food/plan'),
  '/w/[workspace]/live-food/prey': inside('live-food:read', () => '/live-food/prey'),
  '/w/[workspace]/live-food/prey/[line]': inside('live-food:read', (id) => `/live-food/prey/${id.preyLine}`),
  '/w/[workspace]/mails': inside('mail:read', () => '/mails'),
  '/w/[workspace]/people': inside('person:manage', () => '/people'),
  '/w/[workspace]/reminders': inside('day-sheet:read', () => '/reminders'),
  '/w/[workspace]/room': inside('individual:read', () => '/room'),
  '/w/[workspace]/orders': inside('order:read', () => '/orders'),
  '/w/[workspace]/orders/[id]': inside('order:read', (id) => `/orders/${id.order}`),
  '/w/[workspace]/orders/[id]/slip.pdf': inside('order:read', (id) => `/orders/${id.order}/slip.pdf`),
  '/w/[workspace]/orders/new': inside('order:write', () => '/orders/new'),
  '/w/[workspace]/orders/sending': inside('order:read', () => '/orders/sending'),
  '/w/[workspace]/sales': inside('sale:read', () => '/sales'),
  '/w/[workspace]/sales/[id]': inside('sale:read', (id) => `/sales/${id.sale}`),
  '/w/[workspace]/sales/[id]/receipt.pdf': inside('sale:read', (id) => `/sales/${id.sale}/receipt.pdf`),
  '/w/[workspace]/sales/buyers': inside('buyer:read', () => '/sales/buyers'),
  '/w/[workspace]/sales/buyers/[id]': inside('buyer:read', (id) => `/sales/buyers/${id.buyer}`),
  '/w/[workspace]/sales/buyers/[id]/export.json': inside(
    'buyer:write',
    (id) => `/sales/buyers/${id.buyer}/export.json`,
  ),
  '/w/[workspace]/sales/prices': inside('price-list:read', () => '/sales/prices'),
  '/w/[workspace]/sales/for-sale': inside('price-list:read', () => '/sales/for-sale'),
  '/w/[workspace]/sales/for-sale/list.csv': inside('price-list:read', () => '/sales/for-sale/list.csv'),
  '/w/[workspace]/sales/holds': inside('reservation:read', () => '/sales/holds'),
  '/w/[workspace]/sales/registers': inside('register:read', () => '/sales/registers'),
  '/w/[workspace]/sales/registers/[file]': inside('register:read', () => '/sales/registers/movements.csv'),
  '/w/[workspace]/hand-overs': inside('individual:write', () => '/hand-overs'),
  '/w/[workspace]/sales/boxes': inside('sale:read', () => '/sales/boxes'),
  '/w/[workspace]/sales/boxes/[id]': inside('sale:read', (id) => `/sales/boxes/${id.showBox}`),
  '/w/[workspace]/sales/boxes/[id]/papers.pdf': inside(
    'care-sheet:print',
    (id) => `/sales/boxes/${id.showBox}/papers.pdf`,
  ),
  '/w/[workspace]/sales/till': inside('till:write', () => '/sales/till'),
  '/w/[workspace]/sales/counter': inside('sale:write', () => '/sales/counter'),
  '/w/[workspace]/separation-plan': inside('clutch:read', () => '/separation-plan'),
  '/w/[workspace]/separation-plan/settled': inside('clutch:read', () => '/separation-plan/settled'),
  '/w/[workspace]/settings': inside('workspace:write', () => '/settings'),
  '/w/[workspace]/settings/everything.zip': inside('workspace:copy', () => '/settings/everything.zip'),
  '/w/[workspace]/species': inside('species:read', () => '/species'),
  '/w/[workspace]/species/[id]': inside('species:read', (id) => `/species/${id.species}`),
  '/w/[workspace]/trays/[id]': inside('individual:read', (id) => `/trays/${id.tray}`),
  '/w/[workspace]/trays/[id]/label.pdf': inside('individual:read', (id) => `/trays/${id.tray}/label.pdf`),
  '/w/[workspace]/tokens': inside('token:manage', () => '/tokens'),
  '/w/[workspace]/alarm': inside('zone:read', () => '/alarm'),
  '/w/[workspace]/incidents': inside('zone:read', () => '/incidents'),
  '/w/[workspace]/incidents/[id]': inside('zone:read', (id) => `/incidents/${id.incident}`),
  '/w/[workspace]/zones': inside('zone:read', () => '/zones'),
  '/w/[workspace]/zones/[id]/what-if': inside('zone:read', (id) => `/zones/${id.zone}/what-if?day=28`),
  '/w/[workspace]/zones/[id]': inside('zone:read', (id) => `/zones/${id.zone}`),
  '/w/[workspace]/individuals/[id]/care-sheet.pdf': inside(
    'care-sheet:print',
    (id) => `/individuals/${id.individual}/care-sheet.pdf`,
  ),
  '/w/[workspace]/individuals/labels.pdf': inside(
    'individual:read',
    (id) => `/individuals/labels.pdf?ids=${id.individual}`,
  ),
  '/w/[workspace]/sheet-lots/[id]/care-sheet.pdf': inside(
    'care-sheet:print',
    (id) => `/sheet-lots/${id.lot}/care-sheet.pdf`,
  ),
  '/w/[workspace]/egg-cases/[id]/care-sheet.pdf': inside(
    'care-sheet:print',
    (id) => `/egg-cases/${id.eggCase}/care-sheet.pdf`,
  ),
  '/w/[workspace]/sheet-batches/[id]': inside('care-sheet:print', (id) => `/sheet-batches/${id.sheetBatch}`),
  '/w/[workspace]/sheet-batches/[id]/files/[file]': inside(
    'care-sheet:print',
    (id) => `/sheet-batches/${id.sheetBatch}/files/1.pdf`,
  ),
  '/w/[workspace]/individuals/[id]/photos/[photo]': inside(
    'individual:read',
    (id) => `/individuals/${id.individual}/photos/${id.photo}`,
  ),
  '/w/[workspace]/individuals/[id]/label.pdf': inside(
    'individual:read',
    (id) => `/individuals/${id.individual}/label.pdf`,
  ),
}
