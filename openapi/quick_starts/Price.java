import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Path;
import java.util.Optional;

/** Prices a repair: which codes need a price, then the bill. Java 17 or newer, with Jackson on the class path. */
public class Price {
    static final ObjectMapper JSON = new ObjectMapper();
    static final HttpClient HTTP = HttpClient.newHttpClient();
    static final String SERVICE =
            Optional.ofNullable(System.getenv("MENDGAUGE_URL")).orElse("http://127.0.0.1:8340");

    static JsonNode answered(HttpRequest.Builder request) throws Exception {
        var response = HTTP.send(request.build(), BodyHandlers.ofString());
        if (response.statusCode() != 200) throw new IllegalStateException(response.body());
        return JSON.readTree(response.body());
    }

    static HttpRequest.Builder to(String path) {
        return HttpRequest.newBuilder(URI.create(SERVICE + path));
    }

    public static void main(String[] arguments) throws Exception {
        var tyreCase = (ObjectNode) JSON.readTree(Path.of("case.json").toFile());
        var book = tyreCase.path("rulebook").asText();
        var codes = answered(to("/v1/generic-units?tyre_class=car&rulebook=" + book));

        var prices = tyreCase.putObject("price_book").put("currency", "GBP");
        prices.putObject("labour").put("per_hour", "54.00");
        var units = prices.putObject("units");
        codes.path("units").forEach(unit -> units.put(unit.path("code").asText(), "3.40"));
        var consumables = prices.putObject("consumables");
        codes.path("consumables").forEach(used -> consumables.put(used.path("code").asText(), "0.12"));
        prices.putArray("taxes").addObject().put("name", "VAT").put("percent", "20");

        var body = BodyPublishers.ofString(JSON.writeValueAsString(tyreCase));
        var quote = answered(to("/v1/quotes").header("Content-Type", "application/json").POST(body));

        System.out.println(quote.path("verdict").asText() + " - " + quote.path("says").asText());
        quote.path("lines").forEach(line -> System.out.printf(
                "%8s  %s%n", line.path("gross").asText(), line.path("title").asText()));
        System.out.printf("%8s  %s to pay%n",
                quote.path("totals").path("gross").asText(), quote.path("currency").asText());
    }
}
