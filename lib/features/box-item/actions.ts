'use server'

import { endBoxItem, recordBoxItem } from '@/lib/features/box-item/mutations'
import { packItemFormSchema, readPackItemForm, unpackItemSchema } from '@/lib/features/box-item/schema'
import { workspaceAction } from '@/lib/platform/action'

export const packItemAction = workspaceAction(
  { permission: 'sale:write', schema: packItemFormSchema },
  async ({ tx, workspace, input }) => recordBoxItem(tx, workspace, readPackItemForm(input, workspace)),
)

export const unpackItemAction = workspaceAction(
  { permission: 'sale:write', schema: unpackItemSchema },
  async ({ tx, workspace, input }) => ({ value: await endBoxItem(tx, workspace, input), warnings: [] }),
)
