package rules

import "doorwright/unit"

// freeEgress demands nothing of the electrics: the handle does it all, and they only control who comes in.
func freeEgress() Family {
	no := Demand[bool]{false, freeHandle}
	return Family{
		ID: "free-egress", Title: "Free handle: people leave by the hardware alone",
		Edition: "IBC 2018, 1010.1.9, and the same idea in most countries: one action by hand, no key, no electricity",
		WayOut:  Demand[Ways]{FreeHandle, ibcOperation},
		Parameters: Parameters{
			ManualRelease:       no,
			ReleasesPerWay:      Demand[int]{0, freeHandle},
			HardBreak:           no,
			Hold:                Demand[Hold]{Hold{}, freeHandle},
			FireSignal:          no,
			FireCable:           no,
			Relock:              Demand[Relock]{RelockAny, freeHandle},
			LockPowerLoss:       no,
			ControllerPowerLoss: no,
			SensorPowerLoss:     no,
			SingleFault:         no,
			Standby:             Demand[Standby]{StandbyAllowed, freeHandle},
			ReleaseTime:         Demand[unit.Second]{0, freeHandle},
			Height:              Demand[unit.Band[unit.Metre]]{band(0.864, 1.219), ibcOperation},
			Distance:            Demand[unit.Metre]{0, freeHandle},
		},
	}
}

// general is for places whose rules are not in this list.
func general() Family {
	yes := Demand[bool]{true, carefulTrade}
	return Family{
		ID: "general", Title: "Careful default where no national rules are named",
		Edition: "No published text: taken from what most families demand. Ask who is in charge of fire safety there",
		WayOut:  Demand[Ways]{ManualDevice, carefulTrade},
		Parameters: Parameters{
			ManualRelease:       yes,
			ReleasesPerWay:      Demand[int]{1, carefulTrade},
			HardBreak:           yes,
			Hold:                Demand[Hold]{Hold{AtLeast: 30}, carefulTrade},
			FireSignal:          yes,
			FireCable:           yes,
			Relock:              Demand[Relock]{RelockFireReset, carefulTrade},
			LockPowerLoss:       yes,
			ControllerPowerLoss: yes,
			SensorPowerLoss:     yes,
			SingleFault:         Demand[bool]{false, carefulTrade},
			Standby:             Demand[Standby]{StandbyByApproval, carefulTrade},
			ReleaseTime:         Demand[unit.Second]{releaseTime, releaseTrade},
			Height:              Demand[unit.Band[unit.Metre]]{band(1.0, 1.2), heightTrade},
			Distance:            Demand[unit.Metre]{ibcDistance, carefulTrade},
		},
	}
}
