package rules

import "doorwright/unit"

// 5 ft and 60 in, which the IBC prints as 1524 mm and NFPA 101 as 1525 mm.
const (
	ibcDistance  unit.Metre = 1.524
	nfpaDistance unit.Metre = 1.525
)

// releaseTime is the target for a door that may not delay: common practice, no source.
const releaseTime unit.Second = 1

func ibcHardwareRelease() Family {
	return Family{
		ID: "ibc-hardware-release", Title: "IBC, release by the hardware on the leaf",
		Edition: "IBC 2018, 1010.1.9.10 (2021: 1010.2.11, from memory; 2024: check the number)",
		WayOut:  Demand[Ways]{LeafSwitch, ibcHardware},
		Parameters: Parameters{
			ManualRelease:       Demand[bool]{true, ibcHardware},
			ReleasesPerWay:      Demand[int]{1, trade},
			HardBreak:           Demand[bool]{true, ibcHardware},
			Hold:                Demand[Hold]{Hold{}, notDemanded},
			FireSignal:          Demand[bool]{false, notDemanded},
			FireCable:           Demand[bool]{false, notDemanded},
			Relock:              Demand[Relock]{RelockAny, notDemanded},
			LockPowerLoss:       Demand[bool]{true, ibcHardware},
			ControllerPowerLoss: Demand[bool]{true, ibcHardware},
			SensorPowerLoss:     Demand[bool]{false, notDemanded},
			SingleFault:         Demand[bool]{false, notDemanded},
			Standby:             Demand[Standby]{StandbyByApproval, localStandby},
			ReleaseTime:         Demand[unit.Second]{releaseTime, releaseTrade},
			Height:              Demand[unit.Band[unit.Metre]]{band(0.864, 1.219), ibcOperation},
			Distance:            Demand[unit.Metre]{0, ibcHardware}, // the release is on the leaf
		},
	}
}

func ibcSensorRelease() Family {
	return Family{
		ID: "ibc-sensor-release", Title: "IBC, sensor release",
		Edition: "IBC 2018, 1010.1.9.9 (2021: 1010.2.12, from memory; 2024: check the number)",
		WayOut:  Demand[Ways]{Sensor | ManualDevice, ibcSensor},
		Parameters: Parameters{
			ManualRelease:       Demand[bool]{true, ibcSensor},
			ReleasesPerWay:      Demand[int]{1, trade},
			HardBreak:           Demand[bool]{true, ibcSensor},
			Hold:                Demand[Hold]{Hold{AtLeast: 30}, ibcSensor},
			FireSignal:          Demand[bool]{true, ibcFire},
			FireCable:           Demand[bool]{false, notDemanded},
			Relock:              Demand[Relock]{RelockFireReset, ibcReset},
			LockPowerLoss:       Demand[bool]{true, ibcSensor},
			ControllerPowerLoss: Demand[bool]{true, ibcSensor},
			SensorPowerLoss:     Demand[bool]{true, ibcSensorOff},
			SingleFault:         Demand[bool]{false, notDemanded},
			Standby:             Demand[Standby]{StandbyByApproval, localStandby},
			ReleaseTime:         Demand[unit.Second]{releaseTime, releaseTrade},
			Height:              Demand[unit.Band[unit.Metre]]{band(1.016, 1.219), ibcSensor},
			Distance:            Demand[unit.Metre]{ibcDistance, ibcSensor},
		},
	}
}

func nfpaSensorRelease() Family {
	return Family{
		ID: "nfpa-sensor-release", Title: "NFPA 101, sensor release, with NFPA 72",
		Edition: "NFPA 101, 7.2.1.6.2 (2012 and 2015 numbering); NFPA 72:2007 and 2010. Numbers move: check the edition",
		WayOut:  Demand[Ways]{Sensor | ManualDevice, nfpaSensor},
		Parameters: Parameters{
			ManualRelease:       Demand[bool]{true, nfpaSensor},
			ReleasesPerWay:      Demand[int]{1, trade},
			HardBreak:           Demand[bool]{true, nfpaSensor},
			Hold:                Demand[Hold]{Hold{AtLeast: 30}, nfpaSensor},
			FireSignal:          Demand[bool]{true, nfpa72},
			FireCable:           Demand[bool]{false, notDemanded},
			Relock:              Demand[Relock]{RelockFireReset, nfpa72},
			LockPowerLoss:       Demand[bool]{true, nfpaPower},
			ControllerPowerLoss: Demand[bool]{true, nfpaPower},
			SensorPowerLoss:     Demand[bool]{true, nfpaPower},
			SingleFault:         Demand[bool]{false, notDemanded},
			Standby:             Demand[Standby]{StandbyByApproval, localStandby},
			ReleaseTime:         Demand[unit.Second]{releaseTime, releaseTrade},
			Height:              Demand[unit.Band[unit.Metre]]{band(1.015, 1.220), nfpaSensor},
			Distance:            Demand[unit.Metre]{nfpaDistance, nfpaSensor},
		},
	}
}
