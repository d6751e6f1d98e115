-- CreateEnum
CREATE TYPE "reading_source" AS ENUM ('typed', 'pasted', 'sensor');

-- AlterTable
ALTER TABLE "zone" ADD COLUMN     "quarantine_reason" TEXT NOT NULL DEFAULT '',
ADD COLUMN     "quarantine_until" DATE;

-- CreateTable
CREATE TABLE "reading_batch" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "zone_id" UUID NOT NULL,
    "source" "reading_source" NOT NULL,
    "readings" INTEGER NOT NULL,
    "from_at" TIMESTAMPTZ(3) NOT NULL,
    "until_at" TIMESTAMPTZ(3) NOT NULL,
    "recorded_by" UUID,
    "taken_back_at" TIMESTAMPTZ(3),
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "reading_batch_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "reading" (
    "workspace_id" UUID NOT NULL,
    "zone_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "temperature_c" DOUBLE PRECISION NOT NULL,
    "humidity_pct" DOUBLE PRECISION,
    "batch_id" UUID NOT NULL,
    "archived_at" TIMESTAMPTZ(3),

    CONSTRAINT "reading_pkey" PRIMARY KEY ("workspace_id","zone_id","at")
);

-- CreateTable
CREATE TABLE "zone_day" (
    "workspace_id" UUID NOT NULL,
    "zone_id" UUID NOT NULL,
    "on" DATE NOT NULL,
    "readings" INTEGER NOT NULL,
    "mean_c" DOUBLE PRECISION NOT NULL,
    "min_c" DOUBLE PRECISION NOT NULL,
    "max_c" DOUBLE PRECISION NOT NULL,
    "humidity_pct" DOUBLE PRECISION,
    "hours_c" JSONB NOT NULL,
    "parts_c" DOUBLE PRECISION[],

    CONSTRAINT "zone_day_pkey" PRIMARY KEY ("workspace_id","zone_id","on")
);

-- CreateIndex
CREATE INDEX "reading_batch_zone_idx" ON "reading_batch"("workspace_id", "zone_id", "created_at");

-- AddForeignKey
ALTER TABLE "reading_batch" ADD CONSTRAINT "reading_batch_zone_fkey" FOREIGN KEY ("workspace_id", "zone_id") REFERENCES "zone"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "reading_batch" ADD CONSTRAINT "reading_batch_recorder_fkey" FOREIGN KEY ("workspace_id", "recorded_by") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "reading" ADD CONSTRAINT "reading_zone_fkey" FOREIGN KEY ("workspace_id", "zone_id") REFERENCES "zone"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "reading" ADD CONSTRAINT "reading_batch_fkey" FOREIGN KEY ("workspace_id", "batch_id") REFERENCES "reading_batch"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "zone_day" ADD CONSTRAINT "zone_day_zone_fkey" FOREIGN KEY ("workspace_id", "zone_id") REFERENCES "zone"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- Readings come by the thousand from machines: the trail tells of the batch that brought them, and of each one that
-- was corrected. The days only sum them up.
CALL app.close_table('reading_batch');
CALL app.close_table('reading', false);
CALL app.close_table('zone_day', false);
CREATE TRIGGER audit_correction AFTER UPDATE ON reading FOR EACH ROW EXECUTE FUNCTION app.write_audit_entry();

GRANT SELECT, INSERT, UPDATE ON reading_batch, reading, zone_day TO oothecary_app;

ALTER TABLE reading
  ADD CONSTRAINT reading_range CHECK (temperature_c BETWEEN -40 AND 70 AND humidity_pct BETWEEN 0 AND 100);
ALTER TABLE reading_batch
  ADD CONSTRAINT reading_batch_extent CHECK (readings > 0 AND until_at >= from_at);
ALTER TABLE zone_day
  ADD CONSTRAINT zone_day_extent CHECK (readings >= 0 AND max_c >= min_c);
