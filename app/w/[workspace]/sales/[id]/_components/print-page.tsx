'use client'

import { Button } from '@/components/ui/button'

export function PrintPage() {
  return <Button onClick={() => window.print()}>Print the receipt</Button>
}
