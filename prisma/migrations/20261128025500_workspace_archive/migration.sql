-- A workspace that its owner has deleted: nothing leads into it any more, and its owner can take it back for a while.
ALTER TABLE "workspace" ADD COLUMN "archived_at" TIMESTAMPTZ(3);
