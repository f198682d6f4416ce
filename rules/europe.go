package rules

import "doorwright/unit"

// uk is the part that the three actuation categories have in common. Approved Document M asks for at most 1200 mm for
// simple push controls (4.30, second-hand) against the 1400 mm of fire practice: a decision to record for each door.
func uk(id, category string, fault Demand[bool], cable Demand[bool]) Family {
	return Family{
		ID: id, Title: "England, Approved Document B with BS 7273-4 category " + category,
		Edition: "Approved Document B volume 2, section 5; BS 7273-4:2015+A2:2023 (its fault lists were not seen). " +
			"Scotland, Wales and Northern Ireland have texts of their own",
		WayOut: Demand[Ways]{ManualDevice, adbRelease},
		Parameters: Parameters{
			ManualRelease:       Demand[bool]{true, bsManual},
			ReleasesPerWay:      Demand[int]{1, adbSides},
			HardBreak:           Demand[bool]{true, bsTwoPoles},
			Hold:                Demand[Hold]{Hold{UntilReset: true}, bsHold},
			FireSignal:          Demand[bool]{true, adbRelease},
			FireCable:           cable,
			Relock:              Demand[Relock]{RelockFireReset, ukFireReset},
			LockPowerLoss:       Demand[bool]{true, adbRelease},
			ControllerPowerLoss: Demand[bool]{true, adbRelease},
			SensorPowerLoss:     Demand[bool]{false, notDemanded},
			SingleFault:         fault,
			Standby:             Demand[Standby]{StandbyAllowed, standbyTrade},
			ReleaseTime:         Demand[unit.Second]{releaseTime, releaseTrade},
			Height:              Demand[unit.Band[unit.Metre]]{band(1.4, 1.4), ukHeight},
			Distance:            Demand[unit.Metre]{0, bsManual}, // "beside the door", without a figure
		},
	}
}

func ukA() Family {
	return uk("uk-a", "A (critical)", Demand[bool]{true, bsCategoryA}, Demand[bool]{true, bsCategoryA})
}

func ukB() Family {
	return uk("uk-b", "B (standard)", Demand[bool]{false, bsCategoryB}, Demand[bool]{true, bsCategoryB})
}

func ukC() Family {
	return uk("uk-c", "C (indirect)", Demand[bool]{false, bsCategoryC}, Demand[bool]{false, bsCategoryC})
}

func en13637() Family {
	return Family{
		ID: "en13637", Title: "EN 13637, electrically controlled exit system without delay",
		Edition: "EN 13637:2015 (only its scope was seen). The system is tested as a whole; delayed exit is not covered here",
		WayOut:  Demand[Ways]{ManualDevice, enSystem},
		Parameters: Parameters{
			ManualRelease:       Demand[bool]{true, enSystem},
			ReleasesPerWay:      Demand[int]{1, trade},
			HardBreak:           Demand[bool]{true, enSystem},
			Hold:                Demand[Hold]{Hold{UntilReset: true}, enLatch},
			FireSignal:          Demand[bool]{true, enSystem},
			FireCable:           Demand[bool]{true, enSystem},
			Relock:              Demand[Relock]{RelockFireReset, enLatch},
			LockPowerLoss:       Demand[bool]{true, enSystem},
			ControllerPowerLoss: Demand[bool]{true, enSystem},
			SensorPowerLoss:     Demand[bool]{false, notDemanded},
			SingleFault:         Demand[bool]{true, enSystem},
			Standby:             Demand[Standby]{StandbyAllowed, standbyTrade},
			ReleaseTime:         Demand[unit.Second]{releaseTime, releaseTrade},
			Height:              Demand[unit.Band[unit.Metre]]{band(0.8, 1.2), enHeights},
			Distance:            Demand[unit.Metre]{0, notDemanded},
		},
	}
}

func de() Family {
	return Family{
		ID: "de", Title: "Germany, model guideline for electric locks in escape routes",
		Edition: "M-EltVTR 1997; the text adopted by the federal state decides",
		WayOut:  Demand[Ways]{ManualDevice, deSystem},
		Parameters: Parameters{
			ManualRelease:       Demand[bool]{true, deSystem},
			ReleasesPerWay:      Demand[int]{1, trade},
			HardBreak:           Demand[bool]{true, deButton},
			Hold:                Demand[Hold]{Hold{UntilReset: true}, deRelock},
			FireSignal:          Demand[bool]{true, deFire},
			FireCable:           Demand[bool]{true, deSingle},
			Relock:              Demand[Relock]{RelockByHand, deRelock},
			LockPowerLoss:       Demand[bool]{true, deSystem},
			ControllerPowerLoss: Demand[bool]{true, deSingle},
			SensorPowerLoss:     Demand[bool]{false, notDemanded},
			SingleFault:         Demand[bool]{true, deSingle},
			Standby:             Demand[Standby]{StandbyAllowed, standbyTrade},
			ReleaseTime:         Demand[unit.Second]{releaseTime, releaseTrade},
			Height:              Demand[unit.Band[unit.Metre]]{band(0, 1.2), deHeight},
			Distance:            Demand[unit.Metre]{0, notDemanded},
		},
	}
}
