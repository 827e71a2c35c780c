-- An address of the organisation's own that is told of stops, and what is to be told there.
-- CreateTable
CREATE TABLE "webhooks" (
    "organisation_id" UUID NOT NULL,
    "address" TEXT NOT NULL,
    "is_on" BOOLEAN NOT NULL,
    "secret" TEXT NOT NULL,
    "former_secret" TEXT,
    "former_until" TIMESTAMPTZ(3),
    "changed_at" TIMESTAMPTZ(3) NOT NULL,
    "changed_by" UUID,

    CONSTRAINT "webhooks_pkey" PRIMARY KEY ("organisation_id")
);

-- CreateTable
CREATE TABLE "webhook_deliveries" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "vehicle_id" UUID,
    "notice_id" UUID,
    "body" TEXT NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "due_at" TIMESTAMPTZ(3) NOT NULL,
    "attempts" INTEGER NOT NULL,
    "state" TEXT NOT NULL,
    "outcome" TEXT,
    "tried_at" TIMESTAMPTZ(3),

    CONSTRAINT "webhook_deliveries_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateIndex
CREATE INDEX "webhook_deliveries_organisation_id_state_due_at_idx" ON "webhook_deliveries"("organisation_id", "state", "due_at");

-- CreateIndex
CREATE INDEX "webhook_deliveries_organisation_id_notice_id_idx" ON "webhook_deliveries"("organisation_id", "notice_id");

-- CreateIndex
CREATE INDEX "webhook_deliveries_organisation_id_vehicle_id_idx" ON "webhook_deliveries"("organisation_id", "vehicle_id");

-- AddForeignKey
ALTER TABLE "webhook_deliveries" ADD CONSTRAINT "webhook_deliveries_organisation_id_vehicle_id_fkey" FOREIGN KEY ("organisation_id", "vehicle_id") REFERENCES "vehicles"("organisation_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "webhook_deliveries" ADD CONSTRAINT "webhook_deliveries_organisation_id_notice_id_fkey" FOREIGN KEY ("organisation_id", "notice_id") REFERENCES "stop_notices"("organisation_id", "id") ON DELETE CASCADE ON UPDATE CASCADE;


-- By hand: row-level security, as for the other tables.
ALTER TABLE "webhooks" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "webhooks" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "webhooks" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);
ALTER TABLE "webhook_deliveries" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "webhook_deliveries" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "webhook_deliveries" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);
