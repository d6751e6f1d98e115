import { isDevelopment } from '@/lib/platform/env'
import { StallScreen } from './_components/stall-screen'

export const metadata = { title: 'Counter at a show' }

/** The same for everybody: whose box it is, and what is in it, is on the device. So a copy may be kept there. */
export default function StallPage() {
  return <StallScreen isBuilt={!isDevelopment()} />
}
