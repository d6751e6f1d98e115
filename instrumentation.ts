import type { Instrumentation } from 'next'

/** Before the first request: settings complete, a database role that cannot look around, migrations current. */
export async function register(): Promise<void> {
  // Written so that the bundler can drop the body where there is no Node.js.
  if (process.env.NEXT_RUNTIME === 'nodejs') {
    const { requireReadyOrEnd } = await import('@/lib/platform/readiness')
    await requireReadyOrEnd()
  }
}

/** A page that broke shows a digest; here the same digest stands beside what really happened. */
export const onRequestError: Instrumentation.onRequestError = async (error, request, context) => {
  if (process.env.NEXT_RUNTIME === 'nodejs') {
    const { log } = await import('@/lib/platform/log')
    const digest = typeof error === 'object' && error !== null && 'digest' in error ? error.digest : undefined
    const stack = error instanceof Error ? error.stack : String(error)
    log.error(
      { reference: digest, where: context.routePath, method: request.method, error: stack },
      'a page broke',
    )
  }
}
