import { z } from 'zod'
import { createWorkspaceSchema } from '@/lib/features/workspace/schema'
import { describeApi } from '@/lib/platform/api/operation'

export const FORMAT = 'oothecary-workspace'
/** What is sent at once; what it unpacks to is bounded as well. */
export const LARGEST_FILE_BYTES = 256 * 1024 * 1024

/** Why a table is in the file but not put back from it. */
export const ONLY_TOLD: Readonly<Record<string, string>> = {
  workspace_slug: 'an address leads to one workspace only',
  audit_entry: 'the new workspace has its own trail, which begins with the restore',
  mail_message: 'a mail is sent once',
  zone_watcher: 'who is called has to agree anew',
  day_mail: 'who gets a mail chooses it anew',
}

/** Public pages come back under another address: the printed one belongs to the workspace the file was made from. */
export const RENEWED = 'public_link'
/** Put back by the ledger itself while its entries are. */
export const COUNTED = 'head_count'
/** Columns that the database counts up itself while the rows that are counted come in: they begin anew. */
export const COUNTED_UP: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  sale_line: { returned: 0 },
  order_payment: { returned_minor: 0 },
}
/** Rows that are another's here, or name one: counted, while all else is compared letter by letter. */
export const CHANGED: readonly string[] = ['workspace', 'membership', RENEWED]
/** Whatever names a public page names it by its new id. */
export const LINK_COLUMN = 'public_link_id'

/** Kept out of the file: what a lost answer is repeated from for a day. */
export const NOT_TOLD: readonly string[] = ['operation']

const name = z.string().min(1).max(63)

export const manifestSchema = z.strictObject({
  format: z.literal(FORMAT),
  version: z.literal(1),
  madeAt: z.iso.datetime(),
  workspace: z.strictObject({ name: z.string().min(1).max(200), slug: z.string().min(1).max(200) }),
  /** the last change of the tables that the file was written under */
  migration: z.string().min(1).max(200),
  tables: z
    .array(
      z.strictObject({
        name,
        columns: z.array(name).min(1).max(400),
        rows: z.number().int().nonnegative(),
        sha256: z.string().regex(/^[0-9a-f]{64}$/),
        /** why it is not put back by a restore; null where it is */
        onlyTold: z.string().nullable(),
      }),
    )
    .max(400),
})
export type Manifest = z.output<typeof manifestSchema>
export type ManifestTable = Manifest['tables'][number]

/** Where a restored workspace stands, and what it is called. */
export const restorePlaceSchema = createWorkspaceSchema.pick({ name: true, slug: true })
export type RestorePlace = z.output<typeof restorePlaceSchema>

/** Who takes it back, and will own it. */
export type Restorer = { personId: string; name: string; email: string }

const restoredSchema = z.strictObject({
  workspace: z.string().meta({ description: 'the address of the workspace that was made' }),
  name: z.string(),
  tables: z.number().int(),
  rows: z.number().int(),
})
export type Restored = z.output<typeof restoredSchema>

export const workspaceCopyApi = {
  write: describeApi({
    id: 'exportWorkspace',
    method: 'get',
    path: '/export',
    tag: 'Workspace',
    summary:
      'Everything of the workspace at one moment, as a zip: records as lines of JSON with checksums, the same as CSV to read',
    permission: 'workspace:copy',
    answer: z.string(),
    produces: 'application/zip',
  }),
  restore: describeApi({
    id: 'importWorkspace',
    method: 'post',
    path: '/import',
    tag: 'Workspace',
    summary:
      'Takes such a zip back whole, as a new workspace that belongs to the person of the token; nothing of it when anything in it is wrong. The body is the file itself, at most 256 MB',
    permission: 'workspace:copy',
    consumes: 'application/zip',
    query: restorePlaceSchema,
    answer: restoredSchema,
  }),
}
