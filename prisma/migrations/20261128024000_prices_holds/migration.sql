-- CreateEnum
CREATE TYPE "reservation_end" AS ENUM ('released', 'expired', 'sold', 'overtaken');

-- CreateEnum
CREATE TYPE "wish_end" AS ENUM ('filled', 'withdrawn');

-- CreateTable
CREATE TABLE "price_list" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "name" TEXT NOT NULL,
    "proposed" BOOLEAN NOT NULL DEFAULT false,
    "archived_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "price_list_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "price_entry" (
    "workspace_id" UUID NOT NULL,
    "list_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "kind" "sale_line_kind" NOT NULL,
    "species_id" UUID,
    "moults" INTEGER,
    "adult" BOOLEAN NOT NULL DEFAULT false,
    "sex" "sex",
    "container_kind_id" UUID,
    "prey_slug" TEXT,
    "price_minor" INTEGER,

    CONSTRAINT "price_entry_pkey" PRIMARY KEY ("workspace_id","list_id","key")
);

-- CreateTable
CREATE TABLE "reservation" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "buyer_id" UUID NOT NULL,
    "individual_id" UUID NOT NULL,
    "made_on" DATE NOT NULL,
    "until_on" DATE NOT NULL,
    "ended_on" DATE,
    "end" "reservation_end",
    "made_by" UUID,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "reservation_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "wish" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "buyer_id" UUID NOT NULL,
    "species_id" UUID NOT NULL,
    "sex" "sex",
    "moults" INTEGER,
    "adult" BOOLEAN NOT NULL DEFAULT false,
    "count" INTEGER NOT NULL,
    "made_on" DATE NOT NULL,
    "by_on" DATE NOT NULL,
    "ended_on" DATE,
    "end" "wish_end",
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "wish_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateIndex
CREATE UNIQUE INDEX "price_list_name_key" ON "price_list"("workspace_id", "name") WHERE (archived_at IS NULL);

-- CreateIndex
CREATE UNIQUE INDEX "price_list_one_proposed" ON "price_list"("workspace_id") WHERE (proposed AND archived_at IS NULL);

-- CreateIndex
CREATE INDEX "reservation_buyer_idx" ON "reservation"("workspace_id", "buyer_id");

-- CreateIndex
CREATE UNIQUE INDEX "reservation_held_once" ON "reservation"("workspace_id", "individual_id") WHERE (ended_on IS NULL);

-- CreateIndex
CREATE INDEX "wish_buyer_idx" ON "wish"("workspace_id", "buyer_id");

-- AddForeignKey
ALTER TABLE "price_list" ADD CONSTRAINT "price_list_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "price_entry" ADD CONSTRAINT "price_entry_list_fkey" FOREIGN KEY ("workspace_id", "list_id") REFERENCES "price_list"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "price_entry" ADD CONSTRAINT "price_entry_species_fkey" FOREIGN KEY ("workspace_id", "species_id") REFERENCES "species"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "price_entry" ADD CONSTRAINT "price_entry_container_kind_fkey" FOREIGN KEY ("workspace_id", "container_kind_id") REFERENCES "container_kind"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "price_entry" ADD CONSTRAINT "price_entry_prey_line_fkey" FOREIGN KEY ("workspace_id", "prey_slug") REFERENCES "prey_line"("workspace_id", "slug") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "reservation" ADD CONSTRAINT "reservation_buyer_fkey" FOREIGN KEY ("workspace_id", "buyer_id") REFERENCES "buyer"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "reservation" ADD CONSTRAINT "reservation_individual_fkey" FOREIGN KEY ("workspace_id", "individual_id") REFERENCES "individual"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "reservation" ADD CONSTRAINT "reservation_maker_fkey" FOREIGN KEY ("workspace_id", "made_by") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "wish" ADD CONSTRAINT "wish_buyer_fkey" FOREIGN KEY ("workspace_id", "buyer_id") REFERENCES "buyer"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "wish" ADD CONSTRAINT "wish_species_fkey" FOREIGN KEY ("workspace_id", "species_id") REFERENCES "species"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

CALL app.close_table('price_list');
CALL app.close_table('price_entry');
CALL app.close_table('reservation');
CALL app.close_table('wish');
GRANT SELECT, INSERT, UPDATE ON price_list, price_entry, reservation, wish TO oothecary_app;

ALTER TABLE price_entry
  ADD CONSTRAINT price_entry_price CHECK (price_minor >= 0),
  ADD CONSTRAINT price_entry_stage CHECK (moults >= 0 AND NOT (adult AND moults IS NOT NULL));
ALTER TABLE reservation
  ADD CONSTRAINT reservation_days CHECK (until_on >= made_on AND ended_on >= made_on),
  ADD CONSTRAINT reservation_end_complete CHECK ((ended_on IS NULL) = ("end" IS NULL));
ALTER TABLE wish
  ADD CONSTRAINT wish_count CHECK (count > 0),
  ADD CONSTRAINT wish_stage CHECK (moults >= 0 AND NOT (adult AND moults IS NOT NULL)),
  ADD CONSTRAINT wish_end_complete CHECK ((ended_on IS NULL) = ("end" IS NULL));
