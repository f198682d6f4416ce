package standby
