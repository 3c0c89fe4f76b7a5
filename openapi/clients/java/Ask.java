import java.util.List;
import java.util.stream.Collectors;
import org.example.mendgauge.ApiClient;
import org.example.mendgauge.ApiException;
import org.example.mendgauge.api.DecisionsApi;
import org.example.mendgauge.api.ReferenceApi;
import org.example.mendgauge.model.*;

/** Checks a tyre, chooses its unit, prices the repair, reads a refusal, and an answer of a later release. */
public class Ask {
    static TyreCase tyreCase(String marking) {
        var injury = new Injury()
                .region(Injury.RegionEnum.TREAD)
                .depth(Injury.DepthEnum.THROUGH)
                .acrossMm(new MeasuredLength(new Range().low(18.0).high(22.0)))
                .aroundMm(new MeasuredLength(640.0))
                .measuredFrom(Injury.MeasuredFromEnum.OUTSIDE)
                .diameterMm(new MeasuredLength(4.0))
                .stage(Injury.StageEnum.FOUND)
                .leanDeg(new MeasuredAngle(5.0))
                .leanTowardDeg(new MeasuredAngle(0.0))
                .emergesIn(Injury.EmergesInEnum.GROOVE);
        return new TyreCase()
                .rulebook("gb")
                .vehicle(new Vehicle().kind(Vehicle.KindEnum.CAR).grossMassKg(new MeasuredMass(1900.0)))
                .position(new Position().axle(Position.AxleEnum.REAR))
                .tyre(new Tyre()
                        .marking(marking)
                        .dateCode("2323")
                        .treadDepthMm(new MeasuredLength(5.0))
                        .traits(new Traits().complete(true))
                        .makerPolicy(new MakerPolicy().repair(MakerPolicy.RepairEnum.PERMITTED)))
                .injuries(List.of(injury))
                .earlierRepairs(List.of())
                .inspection(new Inspection().complete(true))
                .history(new History().complete(true).pressureFoundPercent(new MeasuredPercent(90.0)));
    }

    static ApiClient client(String address) {
        var client = new ApiClient();
        client.updateBaseUri(address);
        return client;
    }

    public static void main(String[] arguments) throws Exception {
        var client = client(System.getenv("MENDGAUGE_URL"));
        var decisions = new DecisionsApi(client);
        var tyreCase = tyreCase("205/55R16 91V");

        var check = decisions.checkRepairability(tyreCase, null);
        System.out.println("check: " + check.getVerdict() + ", " + check.getNextStep());

        var pieces = decisions.chooseRepairUnits(tyreCase, null).getInjuries().get(0).getChoices().get(0).getChosen();
        System.out.println("unit: " + pieces.getPieces().stream().map(Piece::getCode).collect(Collectors.joining(" + ")));

        var codes = new ReferenceApi(client).listGenericUnits("gb", "car", null, null);
        tyreCase.priceBook(new PriceBook()
                .currency("GBP")
                .labour(new LabourRate().perHour("54.00"))
                .units(codes.getUnits().stream().collect(Collectors.toMap(GenericUnit::getCode, unit -> "3.40")))
                .consumables(codes.getConsumables().stream()
                        .collect(Collectors.toMap(PricedConsumable::getCode, used -> "0.12")))
                .taxes(List.of(new Tax().name("VAT").percent("20"))));
        var quote = decisions.quoteRepair(tyreCase, null);
        System.out.println("price: " + quote.getTotals().getGross() + " " + quote.getCurrency());

        try {
            decisions.checkRepairability(tyreCase("205/55R61"), null);
        } catch (ApiException refused) {
            var problem = client.getObjectMapper().readValue(refused.getResponseBody(), Problem.class);
            System.out.println("refused: " + problem.getStatus() + " " + problem.getTitle() + ", "
                    + problem.getErrors().get(0).getPointer());
        }

        var later = new DecisionsApi(client(System.getenv("MENDGAUGE_LATER_URL")));
        var answer = later.checkRepairability(tyreCase("205/55R16 91V"), null);
        System.out.println("later: " + answer.getVerdict() + ", " + answer.getNextStep());
    }
}
