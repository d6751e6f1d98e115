import { headers } from 'next/headers'

/** Who asks, for counting attempts: the last hop in front of us, since everything before it anyone can write. */
export async function readClientAddress(): Promise<string> {
  return getClientAddress((await headers()).get('x-forwarded-for'))
}

export function getClientAddress(forwardedFor: string | null | undefined): string {
  return forwardedFor?.split(',').at(-1)?.trim() || 'direct'
}
