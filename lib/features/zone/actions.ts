'use server'

import {
  archiveZone,
  createZone,
  recordQuarantine,
  recordSetPoint,
  updateZone,
} from '@/lib/features/zone/mutations'
import {
  archiveZoneSchema,
  createZoneSchema,
  recordQuarantineSchema,
  recordSetPointSchema,
  updateZoneSchema,
} from '@/lib/features/zone/schema'
import { workspaceAction } from '@/lib/platform/action'

export const createZoneAction = workspaceAction(
  { permission: 'zone:write', schema: createZoneSchema },
  async ({ tx, workspace, input }) => ({ value: await createZone(tx, workspace, input), warnings: [] }),
)

export const updateZoneAction = workspaceAction(
  { permission: 'zone:write', schema: updateZoneSchema },
  async ({ tx, scope, input }) => ({ value: await updateZone(tx, scope.workspaceId, input), warnings: [] }),
)

export const recordSetPointAction = workspaceAction(
  { permission: 'zone:write', schema: recordSetPointSchema },
  async ({ tx, workspace, input }) => ({ value: await recordSetPoint(tx, workspace, input), warnings: [] }),
)

export const recordQuarantineAction = workspaceAction(
  { permission: 'zone:write', schema: recordQuarantineSchema },
  async ({ tx, workspace, input }) => ({ value: await recordQuarantine(tx, workspace, input), warnings: [] }),
)

export const archiveZoneAction = workspaceAction(
  { permission: 'zone:write', schema: archiveZoneSchema },
  async ({ tx, scope, input }) => ({ value: await archiveZone(tx, scope.workspaceId, input), warnings: [] }),
)
