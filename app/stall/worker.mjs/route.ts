import { pageWorkerResponse } from '@/lib/platform/page-worker'

export const dynamic = 'force-dynamic'

export function GET(): Promise<Response> {
  return pageWorkerResponse('/stall')
}
