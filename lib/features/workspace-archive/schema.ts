import { z } from 'zod'

/** Typed out, so that it is never a slip of the finger. */
export const archiveWorkspaceSchema = z.strictObject({
  version: z.number().int().positive(),
  name: z.string().trim().min(1, 'Type the name of the workspace.').max(80, 'At most 80 letters.'),
})
export type ArchiveWorkspace = z.output<typeof archiveWorkspaceSchema>

export const takeBackWorkspaceSchema = z.strictObject({ workspaceId: z.uuid() })
