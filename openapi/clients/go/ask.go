// Checks a tyre, chooses its unit, prices the repair, reads a refusal, and an answer of a later release.
package main

import (
	"ask/client"
	"context"
	"errors"
	"fmt"
	"os"
	"strings"
)

func length(mm float64) client.MeasuredLength { return client.Float64AsMeasuredLength(&mm) }

func angle(degrees float64) client.MeasuredAngle { return client.Float64AsMeasuredAngle(&degrees) }

func tyreCase(marking string) client.TyreCase {
	vehicle := client.NewVehicle()
	vehicle.SetKind("car")
	vehicle.SetGrossMassKg(client.Float64AsMeasuredMass(client.PtrFloat64(1900)))

	position := client.NewPosition()
	position.SetAxle("rear")

	traits := client.NewTraits()
	traits.SetComplete(true)
	policy := client.NewMakerPolicy()
	policy.SetRepair("permitted")
	tyre := client.NewTyre(marking)
	tyre.SetDateCode("2323")
	tyre.SetTreadDepthMm(length(5))
	tyre.SetTraits(*traits)
	tyre.SetMakerPolicy(*policy)

	injury := client.NewInjury()
	injury.SetRegion("tread")
	injury.SetDepth("through")
	injury.SetAcrossMm(client.RangeAsMeasuredLength(client.NewRange(18, 22)))
	injury.SetAroundMm(length(640))
	injury.SetMeasuredFrom("outside")
	injury.SetDiameterMm(length(4))
	injury.SetStage("found")
	injury.SetLeanDeg(angle(5))
	injury.SetLeanTowardDeg(angle(0))
	injury.SetEmergesIn("groove")

	inspection := client.NewInspection()
	inspection.SetComplete(true)
	history := client.NewHistory()
	history.SetComplete(true)
	history.SetPressureFoundPercent(client.Float64AsMeasuredPercent(client.PtrFloat64(90)))

	known := client.NewTyreCase("gb", *tyre)
	known.SetVehicle(*vehicle)
	known.SetPosition(*position)
	known.SetInjuries([]client.Injury{*injury})
	known.SetEarlierRepairs([]client.EarlierRepair{})
	known.SetInspection(*inspection)
	known.SetHistory(*history)
	return *known
}

func connected(address string) *client.APIClient {
	configuration := client.NewConfiguration()
	configuration.Servers = client.ServerConfigurations{{URL: address}}
	return client.NewAPIClient(configuration)
}

func ask() error {
	ctx := context.Background()
	service := connected(os.Getenv("MENDGAUGE_URL"))
	known := tyreCase("205/55R16 91V")

	check, _, err := service.DecisionsAPI.CheckRepairability(ctx).TyreCase(known).Execute()
	if err != nil {
		return err
	}
	fmt.Printf("check: %s, %s\n", check.Verdict, check.NextStep)

	units, _, err := service.DecisionsAPI.ChooseRepairUnits(ctx).TyreCase(known).Execute()
	if err != nil {
		return err
	}
	var pieces []string
	for _, piece := range units.Injuries[0].Choices[0].Chosen.Get().Pieces {
		pieces = append(pieces, piece.GetCode())
	}
	fmt.Println("unit:", strings.Join(pieces, " + "))

	codes, _, err := service.ReferenceAPI.ListGenericUnits(ctx).Rulebook("gb").TyreClass("car").Execute()
	if err != nil {
		return err
	}
	prices := client.NewPriceBook("GBP")
	prices.SetLabour(*client.NewLabourRate("54.00"))
	prices.Units = map[string]*string{}
	for _, unit := range codes.Units {
		prices.Units[unit.Code] = client.PtrString("3.40")
	}
	prices.Consumables = map[string]*string{}
	for _, used := range codes.Consumables {
		prices.Consumables[used.Code] = client.PtrString("0.12")
	}
	prices.SetTaxes([]client.Tax{*client.NewTax("VAT", "20")})
	known.SetPriceBook(*prices)
	quote, _, err := service.DecisionsAPI.QuoteRepair(ctx).TyreCase(known).Execute()
	if err != nil {
		return err
	}
	fmt.Printf("price: %s %s\n", quote.Totals.Gross, quote.Currency)

	_, _, err = service.DecisionsAPI.CheckRepairability(ctx).TyreCase(tyreCase("205/55R61")).Execute()
	var refused *client.GenericOpenAPIError
	if !errors.As(err, &refused) {
		return fmt.Errorf("not refused: %w", err)
	}
	problem, decoded := refused.Model().(client.Problem)
	if !decoded {
		return err
	}
	fmt.Printf("refused: %d %s, %s\n", problem.Status, problem.Title, problem.Errors[0].GetPointer())

	later := connected(os.Getenv("MENDGAUGE_LATER_URL"))
	answer, _, err := later.DecisionsAPI.CheckRepairability(ctx).TyreCase(tyreCase("205/55R16 91V")).Execute()
	if err != nil {
		return err
	}
	fmt.Printf("later: %s, %s\n", answer.Verdict, answer.NextStep)
	return nil
}

func main() {
	if err := ask(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}
