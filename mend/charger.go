package mend

import (
	"cmp"
	"slices"

	"doorwright/device"
	"doorwright/job"
	"doorwright/unit"
)

// hardest is the current that a lead-acid battery may be charged with, as a share of its capacity in an hour: 0.1 to 0.25
// (from memory; the data sheet of the battery decides).
const hardest = 0.25

// bears says that a battery may be charged with what the charger of a supply gives.
func bears(battery, supply *device.Model) bool {
	return chargeOf(supply) <= unit.Ampere(hardest*batteryOf(battery).Capacity)
}

// smallerBattery takes smaller batteries of the same voltage, the largest of them first.
func smallerBattery(c *context) []*candidate {
	s := c.supply()
	if s == nil || s.Battery == nil {
		return nil
	}
	now := batteryOf(s.Battery.Model)
	ids := c.models(func(m *device.Model) bool {
		p := batteryOf(m)
		return p.Cells == now.Cells && p.Capacity < now.Capacity && bears(m, s.Model)
	})
	slices.SortStableFunc(ids, func(a, b string) int {
		return cmp.Compare(batteryOf(c.model(b)).Capacity, batteryOf(c.model(a)).Capacity)
	})
	return c.onSupply(s.ID, "battery", ids, "fit %s instead of "+s.Battery.ModelID,
		func(d *job.SupplyDoc, id string) { d.Battery = id })
}

// strongerCharger takes supplies of the same voltage that give no less and charge with more, but with no more than the
// battery may be charged with, the smallest of them first.
func strongerCharger(c *context) []*candidate {
	s := c.supply()
	if s == nil || s.Battery == nil {
		return nil
	}
	now := sourceOf(s.Model)
	ids := c.models(func(m *device.Model) bool {
		p, charge := sourceOf(m), chargeOf(m)
		return p.Nominal == now.Nominal && p.Limit >= now.Limit && charge > 0 && bears(s.Battery.Model, m) &&
			(charge > chargeOf(s.Model) || p.Limit > now.Limit)
	})
	slices.SortStableFunc(ids, func(a, b string) int {
		return cmp.Compare(sourceOf(c.model(a)).Limit, sourceOf(c.model(b)).Limit)
	})
	return c.onSupply(s.ID, "model", ids, "fit %s instead of "+s.ModelID, func(d *job.SupplyDoc, id string) { d.Model = id })
}

// chargeOf is what the charger of a supply gives.
func chargeOf(m *device.Model) unit.Ampere {
	for _, name := range m.PortsOf(device.Battery) {
		return m.Port(name).Charge
	}
	return 0
}
