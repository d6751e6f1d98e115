import { createHash } from 'node:crypto'
import type { Tx } from '@/lib/platform/db'
import { AppError } from '@/lib/platform/errors'
import { Prisma } from '@/lib/platform/generated/prisma/client'
import { inWorkspace, type Scope, type Workspace } from '@/lib/platform/workspace'

export type OperationRequest<T> = {
  key: string
  content: unknown
  /** What of the answer may be kept for a second sending, where not all of it may be: a new token is said once. */
  keep?: (value: T) => T
}
export type OperationResult<T> = { value: T; repeated: boolean }

/**
 * Lets a request have its effect once. The key's row is the first write of the effect's own transaction: a parallel
 * duplicate waits for it and then gets the first answer, and a rollback takes the key with it.
 * @throws AppError key-reused when the same key comes with another content
 */
export function runOnce<T>(
  scope: Scope,
  request: OperationRequest<T>,
  work: (tx: Tx, workspace: Workspace) => Promise<T>,
): Promise<OperationResult<T>> {
  const requestHash = new Uint8Array(createHash('sha256').update(JSON.stringify(request.content)).digest())
  return inWorkspace(scope, async (tx, workspace) => {
    const { workspaceId } = scope
    const claimed = await tx.operation.createMany({
      data: [{ workspaceId, id: request.key, requestHash, personId: scope.personId }],
      skipDuplicates: true,
    })
    if (claimed.count === 0) {
      const first = await tx.operation.findUniqueOrThrow({
        where: { workspaceId_id: { workspaceId, id: request.key } },
      })
      if (Buffer.compare(Buffer.from(first.requestHash), Buffer.from(requestHash)) !== 0)
        throw new AppError('key-reused', 'This key was already used for another request.')
      return { value: first.answer as T, repeated: true }
    }
    const value = await work(tx, workspace)
    await tx.operation.update({
      where: { workspaceId_id: { workspaceId, id: request.key } },
      data: { answer: storable(request.keep ? request.keep(value) : value) },
    })
    return { value, repeated: false }
  })
}

function storable(value: unknown): Prisma.InputJsonValue | typeof Prisma.JsonNull {
  return value === undefined || value === null ? Prisma.JsonNull : JSON.parse(JSON.stringify(value))
}
