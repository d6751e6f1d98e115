import { listBuyerChoices, listBuyers, requireBuyer, requireOpenBuyer } from '@/lib/features/buyer/data'
import { createBuyer, eraseBuyer, finishErasure, updateBuyer } from '@/lib/features/buyer/mutations'
import { listSalesOfBuyer, loadLastSaleDay } from '@/lib/features/sale/data'
import { loadTill } from '@/lib/features/till/data'
import { updateTill } from '@/lib/features/till/mutations'
import type { Calls } from './call'

const BUYER = {
  name: 'Anyone',
  email: '',
  phone: '',
  address: '',
  country: 'NL',
  experience: 'beginner',
  note: '',
  keepConsent: true,
  newsConsent: false,
} as const

/** Buyers, prices, holds: the shop's side. */
export const SELLING_READS: Calls = {
  'buyer/data listBuyers': (tx, { workspace }, id) =>
    listBuyers(tx, workspace.workspaceId, { limit: 10, cursor: id.buyer, search: 'a' }),
  'buyer/data listBuyerChoices': (tx, { workspace }) => listBuyerChoices(tx, workspace.workspaceId),
  'buyer/data requireBuyer': (tx, { workspace }, id) => requireBuyer(tx, workspace.workspaceId, id.buyer),
  'buyer/data requireOpenBuyer': (tx, { workspace }, id) =>
    requireOpenBuyer(tx, workspace.workspaceId, id.buyer),
  'sale/data listSalesOfBuyer': (tx, { workspace }, id) =>
    listSalesOfBuyer(tx, workspace.workspaceId, id.buyer),
  'sale/data loadLastSaleDay': (tx, { workspace }, id) =>
    loadLastSaleDay(tx, workspace.workspaceId, id.buyer),
  'till/data loadTill': (tx, { workspace }) => loadTill(tx, workspace.workspaceId),
}

export const SELLING_WRITES: Calls = {
  'buyer/mutations createBuyer': (tx, { workspace }) => createBuyer(tx, workspace, BUYER),
  'buyer/mutations updateBuyer': (tx, { workspace }, id) =>
    updateBuyer(tx, workspace, { ...BUYER, id: id.buyer, version: 1 }),
  'buyer/mutations eraseBuyer': (tx, { workspace }, id) =>
    eraseBuyer(tx, workspace, { id: id.buyer, version: 1 }),
  'buyer/mutations finishErasure': (tx, { workspace }, id) => finishErasure(tx, workspace, id.buyer),
  'till/mutations updateTill': (tx, { workspace }) =>
    updateTill(tx, workspace.workspaceId, {
      version: 1,
      pricesIncludeTax: false,
      retentionYears: 10,
      receiptWords: '',
      certifiedTill: true,
    }),
}
