-- CreateEnum
CREATE TYPE "show_box_end" AS ENUM ('home', 'sold', 'missing', 'left_out');

-- DropIndex
DROP INDEX "sale_receipt_number_key";

-- AlterTable
ALTER TABLE "sale" ADD COLUMN     "series" TEXT NOT NULL DEFAULT '';

-- CreateTable
CREATE TABLE "show_box" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "number" INTEGER NOT NULL,
    "name" TEXT NOT NULL,
    "pack_on" DATE NOT NULL,
    "return_on" DATE NOT NULL,
    "languages" TEXT[],
    "settled_on" DATE,
    "made_by" UUID,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "show_box_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "show_box_part" (
    "workspace_id" UUID NOT NULL,
    "box_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "series" TEXT NOT NULL,
    "device" UUID,
    "taken_by" UUID,
    "taken_at" TIMESTAMPTZ(3),
    "heard_at" TIMESTAMPTZ(3),

    CONSTRAINT "show_box_part_pkey" PRIMARY KEY ("workspace_id","box_id","number")
);

-- CreateTable
CREATE TABLE "show_box_animal" (
    "workspace_id" UUID NOT NULL,
    "box_id" UUID NOT NULL,
    "individual_id" UUID NOT NULL,
    "part_number" INTEGER NOT NULL,
    "end" "show_box_end",
    "end_on" DATE,

    CONSTRAINT "show_box_animal_pkey" PRIMARY KEY ("workspace_id","box_id","individual_id")
);

-- CreateIndex
CREATE UNIQUE INDEX "show_box_number_key" ON "show_box"("workspace_id", "number");

-- CreateIndex
CREATE UNIQUE INDEX "show_box_part_series_key" ON "show_box_part"("workspace_id", "series");

-- CreateIndex
CREATE UNIQUE INDEX "show_box_animal_once" ON "show_box_animal"("workspace_id", "individual_id") WHERE ("end" IS NULL);

-- CreateIndex
CREATE UNIQUE INDEX "sale_receipt_number_key" ON "sale"("workspace_id", "series", "receipt_number");

-- AddForeignKey
ALTER TABLE "show_box" ADD CONSTRAINT "show_box_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "show_box" ADD CONSTRAINT "show_box_maker_fkey" FOREIGN KEY ("workspace_id", "made_by") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "show_box_part" ADD CONSTRAINT "show_box_part_box_fkey" FOREIGN KEY ("workspace_id", "box_id") REFERENCES "show_box"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "show_box_part" ADD CONSTRAINT "show_box_part_taker_fkey" FOREIGN KEY ("workspace_id", "taken_by") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "show_box_animal" ADD CONSTRAINT "show_box_animal_box_fkey" FOREIGN KEY ("workspace_id", "box_id") REFERENCES "show_box"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "show_box_animal" ADD CONSTRAINT "show_box_animal_part_fkey" FOREIGN KEY ("workspace_id", "box_id", "part_number") REFERENCES "show_box_part"("workspace_id", "box_id", "number") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "show_box_animal" ADD CONSTRAINT "show_box_animal_individual_fkey" FOREIGN KEY ("workspace_id", "individual_id") REFERENCES "individual"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

CALL app.close_table('show_box');
CALL app.close_table('show_box_part');
CALL app.close_table('show_box_animal');
GRANT SELECT, INSERT, UPDATE ON show_box, show_box_part, show_box_animal TO oothecary_app;

ALTER TABLE sale ADD CONSTRAINT sale_series CHECK (series ~ '^[A-Z0-9]{0,8}$');
ALTER TABLE show_box
  ADD CONSTRAINT show_box_days CHECK (return_on BETWEEN pack_on AND pack_on + 21);
ALTER TABLE show_box_part
  ADD CONSTRAINT show_box_part_extent CHECK (number BETWEEN 1 AND 9 AND series ~ '^[A-Z0-9]{2,8}$'),
  ADD CONSTRAINT show_box_part_taken CHECK ((device IS NULL) = (taken_at IS NULL));
ALTER TABLE show_box_animal
  ADD CONSTRAINT show_box_animal_ended CHECK (("end" IS NULL) = (end_on IS NULL));
