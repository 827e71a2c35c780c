-- Entries that a phone sends are answered once, too: whoever sends is a token or a person, and a phone may ask again for
-- its answer long after.
-- By hand: the column and what is in it stay.
ALTER TABLE "idempotency_keys" DROP CONSTRAINT "idempotency_keys_organisation_id_token_id_fkey";
ALTER TABLE "idempotency_keys" RENAME COLUMN "token_id" TO "sender_id";
ALTER TABLE "idempotency_keys" ADD COLUMN     "kept_days" INTEGER NOT NULL DEFAULT 1;

-- Photographs of vehicles, taken beside them.
-- CreateTable
CREATE TABLE "photographs" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "vehicle_id" UUID NOT NULL,
    "content" BYTEA NOT NULL,
    "width" INTEGER NOT NULL,
    "height" INTEGER NOT NULL,
    "note" TEXT NOT NULL,
    "taken_at" TIMESTAMPTZ(3) NOT NULL,
    "entered_at" TIMESTAMPTZ(3) NOT NULL,
    "entered_by" UUID,
    "withdrawn_at" TIMESTAMPTZ(3),
    "withdrawn_by" UUID,

    CONSTRAINT "photographs_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateIndex
CREATE INDEX "photographs_organisation_id_vehicle_id_idx" ON "photographs"("organisation_id", "vehicle_id");

-- AddForeignKey
ALTER TABLE "photographs" ADD CONSTRAINT "photographs_organisation_id_vehicle_id_fkey" FOREIGN KEY ("organisation_id", "vehicle_id") REFERENCES "vehicles"("organisation_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- By hand: pictures are compressed already.
ALTER TABLE "photographs" ALTER COLUMN "content" SET STORAGE EXTERNAL;

-- By hand: row-level security, as for the other tables.
ALTER TABLE "photographs" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "photographs" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "photographs" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);
