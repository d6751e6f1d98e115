import { z } from 'zod'

/** What the page's address may say; anything else is the first page. */
export const auditQuerySchema = z.strictObject({ before: z.uuid().optional().catch(undefined) })
