-- AlterTable
ALTER TABLE "buyer" ADD COLUMN "language" TEXT NOT NULL DEFAULT '';

-- AlterTable
ALTER TABLE "sale_line" ADD COLUMN "facts" JSONB;
