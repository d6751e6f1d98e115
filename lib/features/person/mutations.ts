import type { SignUp } from '@/lib/features/person/schema'
import { AppError } from '@/lib/platform/errors'
import { hashPassword } from '@/lib/platform/password'
import { createPerson } from '@/lib/platform/person'

/**
 * Opens an account. An address that has one already is answered alike, in words and in time, and keeps its password:
 * who tries addresses learns nothing here.
 */
export async function signUp({ name, email, password }: SignUp): Promise<void> {
  const passwordHash = await hashPassword(password)
  try {
    await createPerson({ name, email, passwordHash })
  } catch (error) {
    if (!(error instanceof AppError && error.code === 'name-taken')) throw error
  }
}
