'use server'

import { archivePaper, createPaper } from '@/lib/features/paper/mutations'
import { archivePaperSchema, originPaperSchema, salePaperSchema } from '@/lib/features/paper/schema'
import { workspaceAction } from '@/lib/platform/action'

export const recordOriginPaperAction = workspaceAction(
  { permission: 'individual:write', schema: originPaperSchema },
  async ({ tx, scope, workspace, input: { subject: kind, id, ...paper } }) => ({
    value: await createPaper(tx, { scope, workspace }, { subject: { kind, id }, paper }),
    warnings: [],
  }),
)

export const archiveOriginPaperAction = workspaceAction(
  { permission: 'individual:write', schema: archivePaperSchema },
  async ({ tx, workspace, input }) => ({
    value: await archivePaper(tx, workspace, { ...input, side: 'came' }),
    warnings: [],
  }),
)

export const recordSalePaperAction = workspaceAction(
  { permission: 'sale:write', schema: salePaperSchema },
  async ({ tx, scope, workspace, input: { sale, line, ...paper } }) => {
    const subject = { kind: 'sale' as const, id: sale, ...(line === undefined ? {} : { line }) }
    return { value: await createPaper(tx, { scope, workspace }, { subject, paper }), warnings: [] }
  },
)

export const archiveSalePaperAction = workspaceAction(
  { permission: 'sale:write', schema: archivePaperSchema },
  async ({ tx, workspace, input }) => ({
    value: await archivePaper(tx, workspace, { ...input, side: 'went' }),
    warnings: [],
  }),
)
