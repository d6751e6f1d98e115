import type { Permission } from '@/lib/domain/role/permissions'
import type { Ids } from '../calls/call'
import { RED_POINT } from '../calls/sheets'

/** One call of the JSON API: what it asks for, by which permission, and with which body. */
export type Operation = {
  path: string
  method: 'GET' | 'POST' | 'PATCH'
  permission: Permission
  address: (id: Ids) => string
  body?: (id: Ids) => unknown
  /** what it asks for cannot be had from the records there are: it is judged, and refused by the trade */
  isRefused?: true
}

const ON = '2026-03-20'
const TODAY = new Date().toISOString().slice(0, 10)
const YEAR = 'from=2026-01-01&until=2026-12-31'
/** Nobody to feed: the smallest case there is. */
const FOOD_CASE = {
  lines: [{ id: 'bottle', kind: 'bought', packSize: 100, packCost: 350, leadDays: 3, keepDays: 10 }],
  classes: [{ id: 'large', shortageCost: 100, accepts: [{ line: 'bottle', itemsPerAnimalDay: 1 }] }],
  demand: [],
}
const place = (id: Ids) => ({ containerKind: id.containerKind, zone: id.zone })

function get(path: string, permission: Permission, address: (id: Ids) => string): Operation {
  return { path, method: 'GET', permission, address }
}

function post(
  path: string,
  permission: Permission,
  [address, body]: [(id: Ids) => string, (id: Ids) => unknown],
): Operation {
  return { path, method: 'POST', permission, address, body }
}

function refused(operation: Operation): Operation {
  return { ...operation, isRefused: true }
}

export const OPERATIONS: Operation[] = [
  get('/species', 'species:read', () => '/species'),
  get('/species/[id]', 'species:read', (id) => `/species/${id.species}`),
  get('/species/[id]/care-profile', 'species:read', (id) => `/species/${id.species}/care-profile`),
  {
    path: '/species/[id]/care-profile',
    method: 'PATCH',
    permission: 'species:write',
    address: (id) => `/species/${id.species}/care-profile`,
    body: () => ({ values: [{ path: 'growth.siblingLogSd.value', value: 0.3 }] }),
  },
  get('/past-windows', 'individual:read', (id) => `/past-windows?individual=${id.individual}`),
  get('/zones', 'zone:read', () => '/zones'),
  get('/zones/[id]/readings', 'zone:read', (id) => `/zones/${id.zone}/readings`),
  post('/zones/[id]/readings', 'zone:write', [
    (id) => `/zones/${id.zone}/readings`,
    () => [{ at: '2026-03-21T08:00:00Z', temperatureC: 25.1 }],
  ]),
  {
    path: '/zones/[id]/quarantine',
    method: 'PATCH',
    permission: 'zone:write',
    address: (id) => `/zones/${id.zone}/quarantine`,
    body: () => ({ reason: '' }),
  },
  {
    path: '/zones/[id]/watch',
    method: 'PATCH',
    permission: 'zone:write',
    address: (id) => `/zones/${id.zone}/watch`,
    body: (id) => ({ highC: 31, delayMinutes: 10, watchers: [id.person] }),
  },
  get('/incidents', 'zone:read', () => '/incidents'),
  post('/incidents/[id]/taking', 'incident:take', [(id) => `/incidents/${id.incident}/taking`, () => ({})]),
  post('/zones', 'zone:write', [() => '/zones', () => ({ name: 'Attic', setTemperatureC: 24 })]),
  get('/container-kinds', 'container:read', () => '/container-kinds'),
  post('/container-kinds', 'container:write', [
    () => '/container-kinds',
    () => ({ name: 'Jar', volumeMl: 500, innerHeightMm: 120, innerWidthMm: 80, single: true, stock: 4 }),
  ]),
  get('/containers', 'container:read', () => '/containers'),
  get('/trays', 'individual:read', () => '/trays'),
  post('/trays/[id]/moults', 'individual:write', [
    (id) => `/trays/${id.tray}/moults`,
    () => ({ count: 1, on: TODAY }),
  ]),
  post('/trays/[id]/takings', 'individual:write', [
    (id) => `/trays/${id.tray}/takings`,
    () => ({ count: 1 }),
  ]),
  get('/colonies', 'clutch:read', () => '/colonies'),
  post('/colonies/[id]/counts', 'clutch:write', [
    (id) => `/colonies/${id.colony}/counts`,
    () => ({ on: ON, lines: [{ sex: 'female', moults: 3, animals: 2 }] }),
  ]),
  post('/colonies', 'clutch:write', [
    () => '/colonies',
    (id) => ({ name: 'Third cage', species: id.species, containerKind: id.boxKind, zone: id.zone, on: ON }),
  ]),
  post('/colonies/[id]/entries', 'clutch:write', [
    (id) => `/colonies/${id.colony}/entries`,
    (id) => ({ clutch: id.clutch, on: TODAY, leastMoults: 3, mostMoults: 3 }),
  ]),
  get('/today', 'day-sheet:read', () => '/today'),
  get('/egg-cases', 'egg-case:read', () => '/egg-cases'),
  get('/egg-cases/[id]', 'egg-case:read', (id) => `/egg-cases/${id.eggCase}`),
  post('/egg-cases', 'egg-case:write', [
    () => '/egg-cases',
    (id) => ({ species: id.species, zone: id.zone, laidOn: ON }),
  ]),
  post('/egg-cases/[id]/hatches', 'egg-case:write', [
    (id) => `/egg-cases/${id.eggCase}/hatches`,
    () => ({ on: ON, count: 4 }),
  ]),
  post('/hatch-checks', 'egg-case:read', [
    () => '/hatch-checks',
    (id) => ({ species: id.species, zone: id.zone }),
  ]),
  get('/clutches', 'clutch:read', () => '/clutches'),
  get('/clutches/[id]', 'clutch:read', (id) => `/clutches/${id.clutch}`),
  post('/clutches/[id]/observations', 'clutch:write', [
    (id) => `/clutches/${id.clutch}/observations`,
    () => ({ on: ON, moulted: 'some' }),
  ]),
  post('/clutches/[id]/losses', 'clutch:write', [
    (id) => `/clutches/${id.clutch}/losses`,
    () => ({ on: ON, count: 1, cause: 'unknown' }),
  ]),
  post('/clutches/[id]/moves', 'clutch:write', [
    (id) => `/clutches/${id.clutch}/moves`,
    (id) => ({ on: '2026-06-21', zone: id.zone }),
  ]),
  post('/clutches/[id]/recounts', 'clutch:write', [
    (id) => `/clutches/${id.clutch}/recounts`,
    () => ({ on: ON, counted: 0 }),
  ]),
  post('/clutches/[id]/separations', 'clutch:write', [
    (id) => `/clutches/${id.clutch}/separations`,
    (id) => ({ on: ON, count: 1, ...place(id) }),
  ]),
  post('/separation-plans', 'clutch:read', [
    () => '/separation-plans',
    (id) => ({ from: TODAY, days: 7, containers: [{ kind: id.containerKind, free: 3 }] }),
  ]),
  get('/room-forecast', 'individual:read', () => '/room-forecast?weeks=2'),
  post('/food-plans', 'live-food:read', [
    () => '/food-plans',
    () => ({ from: TODAY, weeks: 1, case: FOOD_CASE }),
  ]),
  get('/individuals', 'individual:read', () => '/individuals'),
  post('/individuals', 'individual:write', [
    () => '/individuals',
    (id) => ({ species: id.species, origin: 'bought', on: ON, instar: 3, ...place(id) }),
  ]),
  get('/individuals/[id]', 'individual:read', (id) => `/individuals/${id.individual}`),
  get('/individuals/[id]/forecast', 'individual:read', (id) => `/individuals/${id.individual}/forecast`),
  get(
    '/individuals/[id]/care-sheet.pdf',
    'care-sheet:print',
    (id) => `/individuals/${id.individual}/care-sheet.pdf`,
  ),
  get('/sheet-lots/[id]/care-sheet.pdf', 'care-sheet:print', (id) => `/sheet-lots/${id.lot}/care-sheet.pdf`),
  get(
    '/egg-cases/[id]/care-sheet.pdf',
    'care-sheet:print',
    (id) => `/egg-cases/${id.eggCase}/care-sheet.pdf`,
  ),
  post('/egg-cases/[id]/care-sheets', 'care-sheet:print', [
    (id) => `/egg-cases/${id.eggCase}/care-sheets`,
    () => ({}),
  ]),
  post('/sheet-batches', 'care-sheet:print', [
    () => '/sheet-batches',
    (id) => ({ individuals: [id.individual] }),
  ]),
  get('/sheet-batches/[id]', 'care-sheet:print', (id) => `/sheet-batches/${id.sheetBatch}`),
  get(
    '/sheet-batches/[id]/files/[file]',
    'care-sheet:print',
    (id) => `/sheet-batches/${id.sheetBatch}/files/1.pdf`,
  ),
  get('/individuals/[id]/photos', 'individual:read', (id) => `/individuals/${id.individual}/photos`),
  post('/individuals/[id]/photos', 'individual:write', [
    (id) => `/individuals/${id.individual}/photos`,
    () => ({ picture: RED_POINT }),
  ]),
  get('/individuals/[id]/label.pdf', 'individual:read', (id) => `/individuals/${id.individual}/label.pdf`),
  post('/individuals/[id]/moults', 'individual:write', [
    (id) => `/individuals/${id.individual}/moults`,
    () => ({ on: ON }),
  ]),
  post('/individuals/[id]/clearances', 'individual:clear', [
    (id) => `/individuals/${id.individual}/clearances`,
    () => ({ reason: 'asked for' }),
  ]),
  post('/individuals/[id]/moves', 'individual:place', [
    (id) => `/individuals/${id.individual}/moves`,
    (id) => ({ on: ON, ...place(id) }),
  ]),
  post('/individuals/[id]/sexings', 'individual:write', [
    (id) => `/individuals/${id.individual}/sexings`,
    () => ({ sex: 'female', certainty: 'probable' }),
  ]),
  post('/moults', 'individual:write', [
    () => '/moults',
    (id) => ({ moults: [{ individual: id.individual, on: '2026-04-20' }] }),
  ]),
  post('/feedings', 'individual:write', [
    () => '/feedings',
    (id) => ({ individuals: [id.individual], on: ON, ate: true }),
  ]),
  post('/looks', 'individual:write', [() => '/looks', (id) => ({ individuals: [id.individual], on: ON })]),
  post('/care-sheets', 'care-sheet:print', [
    () => '/care-sheets',
    (id) => ({ individuals: [id.individual] }),
  ]),
  get('/orders', 'order:read', () => '/orders'),
  get('/orders/[id]', 'order:read', (id) => `/orders/${id.order}`),
  post('/orders', 'order:write', [() => '/orders', (id) => ({ lines: [{ species: id.species, count: 1 }] })]),
  post('/orders/[id]/arrival', 'order:write', [
    (id) => `/orders/${id.sentOrder}/arrival`,
    () => ({ on: ON }),
  ]),
  post('/orders/[id]/payments', 'order:write', [
    (id) => `/orders/${id.order}/payments`,
    () => ({ kind: 'cash', amount: 100 }),
  ]),
  post('/orders/[id]/payments/[payment]/reversal', 'order:write', [
    (id) => `/orders/${id.order}/payments/1/reversal`,
    () => ({ amount: 50, reason: 'bounced' }),
  ]),
  post('/orders/[id]/stock', 'order:write', [
    (id) => `/orders/${id.order}/stock`,
    (id) => ({ add: [{ kind: 'egg_case', eggCase: id.eggCase, price: 1800 }] }),
  ]),
  post('/dispatch-checks', 'order:read', [() => '/dispatch-checks', (id) => ({ order: id.order })]),
  post('/orders/[id]/departure', 'order:write', [
    (id) => `/orders/${id.order}/departure`,
    () => ({ on: TODAY }),
  ]),
  post('/orders/[id]/animals', 'order:write', [
    (id) => `/orders/${id.order}/animals`,
    (id) => ({ animals: [{ line: 1, individual: id.individual }] }),
  ]),
  post('/orders/[id]/cancellation', 'order:write', [
    (id) => `/orders/${id.order}/cancellation`,
    () => ({ reason: 'changed their mind' }),
  ]),
  get('/price-lists', 'price-list:read', () => '/price-lists'),
  get('/for-sale', 'price-list:read', () => '/for-sale'),
  get('/registers/animals', 'register:read', () => `/registers/animals?${YEAR}`),
  get('/registers/egg-cases', 'register:read', () => `/registers/egg-cases?${YEAR}`),
  get('/registers/culture-jars', 'register:read', () => `/registers/culture-jars?${YEAR}`),
  get('/registers/papers', 'register:read', () => `/registers/papers?${YEAR}`),
  get('/registers/taxes', 'register:read', () => `/registers/taxes?${YEAR}`),
  get('/reservations', 'reservation:read', () => '/reservations'),
  post('/reservations/[id]/release', 'reservation:write', [
    (id) => `/reservations/${id.reservation}/release`,
    () => ({}),
  ]),
  post('/reservations', 'reservation:write', [
    () => '/reservations',
    (id) => ({ buyer: id.buyer, individuals: [id.individual], until: TODAY }),
  ]),
  get('/wishes', 'reservation:read', () => '/wishes'),
  post('/wishes', 'reservation:write', [
    () => '/wishes',
    (id) => ({ buyer: id.buyer, species: id.species, count: 1, by: TODAY }),
  ]),
  post('/wishes/[id]/closing', 'reservation:write', [
    (id) => `/wishes/${id.wish}/closing`,
    () => ({ as: 'withdrawn' }),
  ]),
  get('/show-boxes', 'sale:read', () => '/show-boxes'),
  get('/show-boxes/[id]', 'sale:read', (id) => `/show-boxes/${id.showBox}`),
  refused(
    post('/show-boxes', 'sale:write', [
      () => '/show-boxes',
      (id) => ({
        ...{ name: 'Fair', packOn: TODAY, returnOn: TODAY, count: 1, species: id.species, languages: ['en'] },
      }),
    ]),
  ),
  post('/show-boxes/[id]/items', 'sale:write', [
    (id) => `/show-boxes/${id.showBox}/items`,
    (id) => ({ line: { kind: 'container', containerKind: id.containerKind, quantity: 1 } }),
  ]),
  post('/show-boxes/[id]/settlement', 'sale:write', [
    (id) => `/show-boxes/${id.showBox}/settlement`,
    () => ({ counts: [{ item: 1, home: 2 }] }),
  ]),
  get('/hand-overs', 'individual:read', () => '/hand-overs'),
  get('/hand-overs/[id]', 'individual:read', (id) => `/hand-overs/${id.handOver}`),
  post('/hand-overs', 'individual:write', [() => '/hand-overs', (id) => ({ individuals: [id.individual] })]),
  post('/hand-overs/[id]/code', 'individual:write', [(id) => `/hand-overs/${id.handOver}/code`, () => ({})]),
  post('/hand-overs/[id]/withdrawal', 'individual:write', [
    (id) => `/hand-overs/${id.handOver}/withdrawal`,
    () => ({}),
  ]),
  refused(
    post('/take-overs', 'individual:write', [() => '/take-overs', (id) => ({ code: 'x', ...place(id) })]),
  ),
  get('/buyers', 'buyer:read', () => '/buyers'),
  get('/buyers/[id]', 'buyer:read', (id) => `/buyers/${id.buyer}`),
  post('/buyers', 'buyer:write', [() => '/buyers', () => ({ name: 'Anyone' })]),
  {
    path: '/buyers/[id]',
    method: 'PATCH',
    permission: 'buyer:write',
    address: (id) => `/buyers/${id.buyer}`,
    body: () => ({ name: 'Anyone else' }),
  },
  post('/buyers/[id]/erasure', 'buyer:write', [(id) => `/buyers/${id.buyer}/erasure`, () => ({})]),
  get('/sales', 'sale:read', () => '/sales'),
  get('/sales/[id]', 'sale:read', (id) => `/sales/${id.sale}`),
  post('/sales/[id]/returns', 'sale:write', [
    (id) => `/sales/${id.sale}/returns`,
    (id) => ({ on: ON, reason: 'came back', lines: [{ number: 1, quantity: 1 }], ...place(id) }),
  ]),
  post('/sales/[id]/reversal', 'sale:write', [
    (id) => `/sales/${id.sale}/reversal`,
    (id) => ({ on: ON, reason: 'came back', ...place(id) }),
  ]),
  post('/individuals/[id]/returns', 'individual:place', [
    (id) => `/individuals/${id.gone}/returns`,
    (id) => ({ on: ON, ...place(id) }),
  ]),
  post('/sales', 'sale:write', [
    () => '/sales',
    (id) => ({
      on: '2026-05-20',
      individuals: [id.individual],
      lines: [{ individual: id.individual, overrideReason: 'asked for' }],
    }),
  ]),
  get('/prey', 'live-food:read', () => '/prey'),
  {
    path: '/prey/[id]',
    method: 'PATCH',
    permission: 'live-food:write',
    address: (id) => `/prey/${id.preyLine}`,
    body: () => ({ path: 'supply.yield.mean', value: 333 }),
  },
  get('/cultures', 'live-food:read', () => '/cultures'),
  get('/food-demand', 'live-food:read', () => '/food-demand?weeks=2'),
  post('/cultures', 'live-food:write', [
    () => '/cultures',
    (id) => ({ line: id.preyLine, startedOn: ON, zone: id.zone, startersFrom: id.culture }),
  ]),
  post('/cultures/[id]/harvests', 'live-food:write', [
    (id) => `/cultures/${id.culture}/harvests`,
    () => ({ on: ON, count: 60 }),
  ]),
  post('/cultures/[id]/marks', 'live-food:write', [
    (id) => `/cultures/${id.culture}/marks`,
    () => ({ on: ON, mark: 'mites' }),
  ]),
  post('/cultures/[id]/discards', 'live-food:write', [
    (id) => `/cultures/${id.culture}/discards`,
    () => ({ on: '2026-05-02' }),
  ]),
  get('/export', 'workspace:copy', () => '/export'),
  post('/individuals/[id]/deaths', 'individual:place', [
    (id) => `/individuals/${id.gone}/deaths`,
    () => ({ on: '2026-05-21', cause: 'unknown' }),
  ]),
]
