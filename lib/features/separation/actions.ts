'use server'

import { createSeparation } from '@/lib/features/separation/mutations'
import { startSeparationSchema } from '@/lib/features/separation/schema'
import { workspaceAction } from '@/lib/platform/action'

export const startSeparationAction = workspaceAction(
  { permission: 'clutch:write', schema: startSeparationSchema },
  async ({ tx, input, ...recording }) => createSeparation(tx, recording, input),
)
