// Checks PDF files against PDF/A-3b (ISO 19005-3:2012, level B) with the veraPDF library, many in one run.
//
// Standard input: one file name a line (UTF-8). Standard output: for the n-th file (counted from 0) one line
// "n<TAB>fault<TAB>text" for each failed rule, then "n<TAB>done". A file without its "done" line was not judged.

import java.io.BufferedReader;
import java.io.File;
import java.io.InputStreamReader;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.Map;
import java.util.TreeMap;
import java.util.logging.Level;
import java.util.logging.Logger;

import org.verapdf.gf.foundry.VeraGreenfieldFoundryProvider;
import org.verapdf.pdfa.Foundries;
import org.verapdf.pdfa.PDFAParser;
import org.verapdf.pdfa.PDFAValidator;
import org.verapdf.pdfa.flavours.PDFAFlavour;
import org.verapdf.pdfa.results.TestAssertion;
import org.verapdf.pdfa.results.ValidationResult;

public final class Validate {
    private static final PDFAFlavour FLAVOUR = PDFAFlavour.PDFA_3_B;

    public static void main(String[] args) throws Exception {
        Logger.getLogger("").setLevel(Level.OFF);
        VeraGreenfieldFoundryProvider.initialise();
        PrintStream out = new PrintStream(System.out, true, StandardCharsets.UTF_8);
        BufferedReader names = new BufferedReader(new InputStreamReader(System.in, StandardCharsets.UTF_8));
        int number = 0;
        for (String name = names.readLine(); name != null; name = names.readLine()) {
            for (String fault : faultsOf(new File(name)).values()) {
                out.println(number + "\tfault\t" + fault.replaceAll("\\s+", " "));
            }
            out.println(number + "\tdone");
            number++;
        }
    }

    /** One text for each failed rule, in the order of the rules; empty for a compliant file. */
    private static Map<String, String> faultsOf(File file) {
        Map<String, String> faults = new TreeMap<>();
        try (PDFAParser parser = Foundries.defaultInstance().createParser(file, FLAVOUR);
                PDFAValidator validator = Foundries.defaultInstance().createValidator(FLAVOUR, false)) {
            ValidationResult result = validator.validate(parser);
            for (TestAssertion failed : result.getTestAssertions()) {
                String rule = failed.getRuleId().getClause() + "-" + failed.getRuleId().getTestNumber();
                faults.putIfAbsent(rule, "rule " + rule + ": " + failed.getMessage());
            }
            if (!result.isCompliant() && faults.isEmpty()) {
                faults.put("", "not compliant, and no rule was named");
            }
        } catch (Exception unreadable) {
            faults.put("", "cannot be read as PDF: " + unreadable.getMessage());
        }
        return faults;
    }
}
