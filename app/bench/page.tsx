import { isDevelopment } from '@/lib/platform/env'
import { BenchScreen } from './_components/bench-screen'

export const metadata = { title: 'Bench' }

/** The same for everybody: whose bench it is, and what stands on it, is on the device. So a copy may be kept there. */
export default function BenchPage() {
  return <BenchScreen isBuilt={!isDevelopment()} />
}
