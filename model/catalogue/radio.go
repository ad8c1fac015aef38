package catalogue

// RadioName is a radio's name to print.
func RadioName(radio string) string {
	switch radio {
	case "zigbee":
		return "Zigbee"
	case "thread":
		return "Thread"
	case "wifi":
		return "Wi-Fi"
	case "ble":
		return "Bluetooth LE"
	}
	return radio
}
