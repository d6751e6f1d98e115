'use server'

import {
  archiveContainerKind,
  createContainerKind,
  createContainerOrder,
  recordArrival,
  updateContainerKind,
} from '@/lib/features/container/mutations'
import {
  archiveContainerKindSchema,
  createContainerKindSchema,
  createContainerOrderSchema,
  recordArrivalSchema,
  updateContainerKindSchema,
} from '@/lib/features/container/schema'
import { workspaceAction } from '@/lib/platform/action'

export const createContainerKindAction = workspaceAction(
  { permission: 'container:write', schema: createContainerKindSchema },
  async ({ tx, workspace, input }) => ({
    value: await createContainerKind(tx, workspace, input),
    warnings: [],
  }),
)

export const updateContainerKindAction = workspaceAction(
  { permission: 'container:write', schema: updateContainerKindSchema },
  async ({ tx, scope, input }) => ({
    value: await updateContainerKind(tx, scope.workspaceId, input),
    warnings: [],
  }),
)

export const createContainerOrderAction = workspaceAction(
  { permission: 'container:write', schema: createContainerOrderSchema },
  async ({ tx, workspace, input }) => ({
    value: await createContainerOrder(tx, workspace, input),
    warnings: [],
  }),
)

export const recordArrivalAction = workspaceAction(
  { permission: 'container:write', schema: recordArrivalSchema },
  async ({ tx, workspace, input }) => ({ value: await recordArrival(tx, workspace, input), warnings: [] }),
)

export const archiveContainerKindAction = workspaceAction(
  { permission: 'container:write', schema: archiveContainerKindSchema },
  async ({ tx, scope, input }) => ({
    value: await archiveContainerKind(tx, scope.workspaceId, input),
    warnings: [],
  }),
)
