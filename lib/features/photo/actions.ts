'use server'

import { archivePhoto, createPhoto, updatePhoto } from '@/lib/features/photo/mutations'
import { addPhotoSchema, archivePhotoSchema, choosePhotoSchema } from '@/lib/features/photo/schema'
import { workspaceAction } from '@/lib/platform/action'

export const addPhotoAction = workspaceAction(
  { permission: 'individual:write', schema: addPhotoSchema },
  async ({ tx, scope, workspace, input }) => {
    const { id } = await createPhoto(tx, { scope, workspace }, input)
    return { value: { id }, warnings: [] }
  },
)

export const choosePhotoAction = workspaceAction(
  { permission: 'individual:write', schema: choosePhotoSchema },
  async ({ tx, scope, input }) => ({ value: await updatePhoto(tx, scope.workspaceId, input), warnings: [] }),
)

export const archivePhotoAction = workspaceAction(
  { permission: 'individual:write', schema: archivePhotoSchema },
  async ({ tx, scope, input }) => ({ value: await archivePhoto(tx, scope.workspaceId, input), warnings: [] }),
)
