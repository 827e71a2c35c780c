-- Letters that were written to customers, as they were written, and customers who want none.
-- CreateTable
CREATE TABLE "letters" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "vehicle_id" UUID NOT NULL,
    "customer" TEXT NOT NULL,
    "customer_key" TEXT NOT NULL,
    "jobs" JSONB NOT NULL,
    "content" TEXT NOT NULL,
    "written_on" DATE NOT NULL,
    "written_at" TIMESTAMPTZ(3) NOT NULL,
    "written_by" UUID,
    "proposal_acts" UUID[],
    "undone_at" TIMESTAMPTZ(3),
    "undone_by" UUID,

    CONSTRAINT "letters_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "letter_opt_outs" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "customer" TEXT NOT NULL,
    "customer_key" TEXT NOT NULL,
    "noted_on" DATE NOT NULL,
    "noted_at" TIMESTAMPTZ(3) NOT NULL,
    "noted_by" UUID,
    "undone_at" TIMESTAMPTZ(3),
    "undone_by" UUID,

    CONSTRAINT "letter_opt_outs_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateIndex
CREATE INDEX "letters_organisation_id_vehicle_id_idx" ON "letters"("organisation_id", "vehicle_id");

-- CreateIndex
CREATE INDEX "letters_organisation_id_customer_key_idx" ON "letters"("organisation_id", "customer_key");

-- CreateIndex
CREATE INDEX "letter_opt_outs_organisation_id_customer_key_idx" ON "letter_opt_outs"("organisation_id", "customer_key");

-- AddForeignKey
ALTER TABLE "letters" ADD CONSTRAINT "letters_organisation_id_vehicle_id_fkey" FOREIGN KEY ("organisation_id", "vehicle_id") REFERENCES "vehicles"("organisation_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- By hand: row-level security, as for the other tables.
ALTER TABLE "letters" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "letters" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "letters" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);
ALTER TABLE "letter_opt_outs" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "letter_opt_outs" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "letter_opt_outs" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);
