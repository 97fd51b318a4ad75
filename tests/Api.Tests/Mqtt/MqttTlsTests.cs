using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace Washwear.Api.Tests.Mqtt;

public sealed class MqttTlsTests
{
    [Fact]
    public async Task A_broker_whose_certificate_comes_from_the_given_authority_is_believed()
    {
        using X509Certificate2 authority = Authority("Kitchen authority (invented)");
        await using Broker broker = await Broker.StartAsync(ServerCertificate(authority));

        await using ApiHost host = await MqttHost.StartAsync(broker, MqttHost.Mapping, [.. await TlsAsync(broker, authority)]);

        Assert.Equal("connected", (await MqttHost.StatusAsync(host)).GetProperty("state").GetString());
    }

    [Fact]
    public async Task A_broker_whose_certificate_comes_from_elsewhere_is_not_believed()
    {
        using X509Certificate2 authority = Authority("Kitchen authority (invented)");
        using X509Certificate2 other = Authority("Somebody else (invented)");
        await using Broker broker = await Broker.StartAsync(ServerCertificate(other));
        await using ApiHost host = await ApiHost.StartAsync(settings: [.. await MqttHost.SettingsAsync(broker, MqttHost.Mapping), .. await TlsAsync(broker, authority)]);

        await Until.TrueAsync(async () => (await MqttHost.StatusAsync(host)).GetProperty("state").GetString() == "waiting", "the connection is refused");
        Assert.False(await broker.HasAsync(MqttHost.ClientId));
    }

    private static async Task<(string, string)[]> TlsAsync(Broker broker, X509Certificate2 authority)
    {
        string file = Path.Combine(broker.Folder, "authority.pem");
        await File.WriteAllTextAsync(file, authority.ExportCertificatePem());
        return [("mqtt_tls", "yes"), ("mqtt_ca_file", file)];
    }

    private static X509Certificate2 Authority(string name)
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var request = new CertificateRequest("CN=" + name, key, HashAlgorithmName.SHA256);
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(true, false, 0, true));
        return request.CreateSelfSigned(From, To);
    }

    private static X509Certificate2 ServerCertificate(X509Certificate2 authority)
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var request = new CertificateRequest("CN=127.0.0.1", key, HashAlgorithmName.SHA256);
        var names = new SubjectAlternativeNameBuilder();
        names.AddIpAddress(IPAddress.Loopback);
        request.CertificateExtensions.Add(names.Build());
        using X509Certificate2 signed = request.Create(authority, From.AddHours(1), To.AddHours(-1), [1, 2, 3, 4]);
        using X509Certificate2 withKey = signed.CopyWithPrivateKey(key);
        return X509CertificateLoader.LoadPkcs12(withKey.Export(X509ContentType.Pfx), null);
    }

    // Certificates are judged by the machine's own clock.
    private static DateTimeOffset From => TimeProvider.System.GetUtcNow().AddDays(-2);

    private static DateTimeOffset To => TimeProvider.System.GetUtcNow().AddDays(2);
}
