/**
 * What each role may do, as one table that the server's gates and the screens both read.
 * A permission is `<concept>:<verb>`; a screen hides what the gate would refuse.
 */
export const ROLES = ['owner', 'keeper', 'counter', 'viewer'] as const
export type Role = (typeof ROLES)[number]

export const PERMISSIONS = [
  'day-sheet:read',
  'egg-case:read',
  'egg-case:write',
  'clutch:read',
  'clutch:write',
  'individual:read',
  'individual:write',
  /** a death or a move, which the counter also has to be able to record */
  'individual:place',
  /** saying that an animal may leave today although something speaks against it */
  'individual:clear',
  'zone:read',
  'zone:write',
  /** looking after a zone that is too hot or too cold: whoever is in the room */
  'incident:take',
  'container:read',
  'container:write',
  'live-food:read',
  'live-food:write',
  'species:read',
  'species:write',
  'pedigree:write',
  'sale:read',
  'sale:write',
  'buyer:read',
  'buyer:write',
  'price-list:read',
  'price-list:write',
  /** animals held for somebody, and wishes that wait */
  'reservation:read',
  'reservation:write',
  /** what came, went, was born and died, and the taxes */
  'register:read',
  /** what prices mean, what receipts say, how long they are kept */
  'till:write',
  'order:read',
  'order:write',
  'care-sheet:print',
  'public-link:revoke',
  'cost:read',
  'person:manage',
  'token:manage',
  'workspace:write',
  /** taking everything out in one file, and putting such a file back */
  'workspace:copy',
  'audit:read',
  'mail:read',
] as const
export type Permission = (typeof PERMISSIONS)[number]

const READ: Permission[] = [
  'day-sheet:read',
  'egg-case:read',
  'clutch:read',
  'individual:read',
  'zone:read',
  'container:read',
  'live-food:read',
  'species:read',
]

const GRANTS: Record<Role, ReadonlySet<Permission>> = {
  owner: new Set(PERMISSIONS),
  keeper: new Set<Permission>([
    ...READ,
    'egg-case:write',
    'clutch:write',
    'individual:write',
    'individual:place',
    'individual:clear',
    'zone:write',
    'incident:take',
    'container:write',
    'live-food:write',
    'species:write',
    'pedigree:write',
    'care-sheet:print',
    'cost:read',
    'price-list:read',
    'reservation:read',
    'reservation:write',
  ]),
  counter: new Set<Permission>([
    ...READ,
    'individual:place',
    'incident:take',
    'sale:read',
    'sale:write',
    'buyer:read',
    'buyer:write',
    'order:read',
    'order:write',
    'care-sheet:print',
    'public-link:revoke',
    'price-list:read',
    'reservation:read',
    'reservation:write',
    'register:read',
  ]),
  viewer: new Set<Permission>(READ),
}

/** Whether a role holds a permission. */
export function isAllowed(role: Role, permission: Permission): boolean {
  return GRANTS[role].has(permission)
}

/** Everything a role may do, for a screen that shows only what its reader can use. */
export function listPermissions(role: Role): Permission[] {
  return [...GRANTS[role]]
}

/** One sentence per role, said where a role is chosen. */
export const ROLE_SENTENCES: Record<Role, string> = {
  owner: 'Everything, including people, tokens and the workspace itself.',
  keeper: 'Animals, live food, zones, containers, species and care sheets. No sales, people or tokens.',
  counter: 'Sales and care sheets, reads animals, records a death or a move. No costs, no pedigree.',
  viewer: 'Reads. No costs, no buyers.',
}
